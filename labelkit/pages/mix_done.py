"""The page after a batch was saved: the label, and what to do now."""

from typing import Any

from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import Record
from labelkit.pages.addresses import batch_folder
from labelkit.pages.batch_page import batch_values

__all__ = ["done_values"]


def done_values(record: Record, settings: Settings) -> dict[str, Any]:
    """What the template is told of a batch that was just saved.

    ``page`` is None where its words cannot be read.
    """
    _, values = batch_values(record, (), settings)
    return {
        "page": None,
        **values,
        "folder": batch_folder(record.number),
        "unlabelled": [
            n
            for n, layout in enumerate(record.data.get("layouts", ()), 1)
            if not layout
        ],
        "disposal": settings.disposal,
    }
