"""What a file of labels is called: alike wherever it is printed or shown."""

import re

from labelkit.mixing.ports import Record

__all__ = ["label_file_name"]

_APART = re.compile(r"\W+")
_LONGEST = 60


def label_file_name(record: Record, bottle: int | None = None, others: int = 0) -> str:
    """``borate-alkali-ABCD-EFGH-K-bottle-2.pdf``.

    A record may have come from another bench: whatever its recipe is called, this is
    one plain name, and no way out of a folder.

    Args:
        record: the batch.
        bottle: which of its bottles, from 1; None for all.
        others: how many further batches are in the same file.
    """
    said = _APART.sub("-", (record.recipe or record.title).lower())
    name = said[:_LONGEST].strip("-") or "label"
    which = f"-bottle-{bottle}" if bottle else ""
    more = f"-and-{others}-more" if others else ""
    return f"{name}-{record.number}{which}{more}.pdf"
