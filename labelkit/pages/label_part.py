"""The labels of a batch as PDF: to be printed from whatever shows the page."""

from labelkit.chemistry.numbers import quoted
from labelkit.errors import BadInput, LabelkitError, ShelfError, Unknown
from labelkit.mixing.file_names import label_file_name
from labelkit.mixing.numbers import read_bottle
from labelkit.mixing.ports import LabelMaker, Record
from labelkit.pages.asked import Answer, Asked
from labelkit.pages.form_page import form_page
from labelkit.pages.site import Site

__all__ = ["LabelPart", "bottle_named"]

_PDF = ".pdf"


class LabelPart:
    """The part of the site that prints labels; it is only read."""

    heads = frozenset({"LABEL"})

    def __init__(self, site: Site, maker: LabelMaker) -> None:
        self._site = site
        self._maker = maker

    def get(self, asked: Asked) -> Answer:
        """The labels of ``label/NUMBER.pdf``, or of its bottle ``label/NUMBER/2.pdf``.

        Raises:
            Unknown: there is no such batch or bottle.
            ShelfError: the shelf cannot be read.
        """
        named = asked.path.partition("/")[2].removesuffix("/")
        if named.lower().endswith(_PDF):
            named = named[: -len(_PDF)]
        record, bottle = bottle_named(self._site, named)
        try:
            pdf = self._maker.labels(record, bottle)
        except ShelfError:
            raise
        except LabelkitError as error:
            faults = [(fault.problem, fault.remedy) for fault in error.faults]
            return self._cannot(asked, record, faults)
        name = label_file_name(record, bottle)
        return Answer(200, pdf, mimetype="application/pdf", file_name=name)

    def _cannot(
        self, asked: Asked, record: Record, faults: list[tuple[str, str]]
    ) -> Answer:
        return form_page(
            self._site, "no_label", asked, 422, record=record, faults=faults
        )


def bottle_named(site: Site, named: str) -> tuple[Record, int | None]:
    """The batch of ``NUMBER`` or ``NUMBER/2``, and which bottle if one is named.

    Raises:
        Unknown: there is no such batch, or it has no such bottle.
    """
    try:
        number, bottle = read_bottle(named)
    except BadInput:
        raise Unknown(f"{quoted(named)} is no batch number") from None
    try:
        record = site.shelf.get(number)
    except Unknown:
        raise Unknown(f"there is no batch {number} on this shelf") from None
    if bottle is not None and bottle > record.bottles:
        raise Unknown(
            f"batch {number} has no bottle {bottle}",
            remedy=f"Its bottles are numbered 1 to {record.bottles}.",
        )
    return record, bottle
