"""The page after a batch was saved: the label, and what to do now."""

from typing import Any

from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import Record
from labelkit.mixing.said import AID_FULL
from labelkit.mixing.words import PageText
from labelkit.pages.addresses import batch_folder
from labelkit.pages.frozen_page import call_for, counted, words_of

__all__ = ["done_values"]


def done_values(record: Record, settings: Settings) -> dict[str, Any]:
    """What the template is told of a batch that was just saved.

    ``page`` is None where its words cannot be read.
    """
    words = words_of(record)
    page = words if isinstance(words, PageText) else None
    return {
        "page": page,
        "record": record,
        "mixed": f"{record.mixed_on:%Y-%m-%d}",
        "call": call_for(settings.emergency or (page.emergency if page else "")),
        "bottles": counted(page.bottles) if page else "",
        "aid": page.aid_full if page else AID_FULL,
        "folder": batch_folder(record.number),
        "unlabelled": [
            n
            for n, layout in enumerate(record.data.get("layouts", ()), 1)
            if not layout
        ],
        "disposal": settings.disposal,
    }
