"""Keeping a batch and printing its labels: the last two steps of mixing."""

from pathlib import Path

from labelkit.cli.prints import LabelOrder, label_pdf, layout_for, placements, write
from labelkit.cli.sets import beside, other_parts
from labelkit.cli.taking import taken_from_bottles
from labelkit.cli.workplace import Workplace
from labelkit.errors import LabelkitError
from labelkit.mixing.batch import Batch
from labelkit.mixing.doses import WATER
from labelkit.mixing.file_names import label_file_name
from labelkit.mixing.handbook import Handbook
from labelkit.mixing.keeping import keep
from labelkit.mixing.ports import Record

__all__ = ["keep_batch", "print_labels"]


def keep_batch(
    place: Workplace, batch: Batch, handbook: Handbook, *, draft: str = ""
) -> Record:
    """Freeze a batch and put it on the shelf; its draft is done with.

    What it took from bottles on the shelf is written down in the same transaction.

    Args:
        place: for the shelf, the settings and the layouts.
        batch: from the weights as read.
        handbook: what was looked up.
        draft: under which name it was kept half done; "" for the recipe's own.
    """
    from labelkit.files.chemicals import entry_as_table

    used = [c for c in batch.plan.solution.ledger.lines if c != WATER]
    others = other_parts(place, batch)
    record = keep(
        batch,
        handbook,
        place.settings,
        layout_for=lambda words: layout_for(place, words, beside(words, others)),
        chemicals=[entry_as_table(handbook.catalogue[c]) for c in used],
        choices=place.choices,
    )
    place.shelf.add(
        record,
        finishes=draft or batch.plan.recipe.name,
        events=taken_from_bottles(place.shelf, batch),
    )
    return record


def print_labels(place: Workplace, record: Record) -> tuple[Path | None, str]:
    """Write the labels of a batch into the bench's prints.

    Returns:
        the file, and what a person should know: the slots used, or why there is none
        and how to print it.
    """
    order = LabelOrder()
    try:
        labels = placements(place, record, None, order)
        pdf, used = label_pdf(place, labels, order, [record])
        path = place.the_bench().prints / label_file_name(record)
        write(path, pdf)
    except LabelkitError as error:
        how = f"The batch is kept. Print it with: labelkit label {record.number}"
        return None, f"No label: {error}\n{how}"
    return path, used
