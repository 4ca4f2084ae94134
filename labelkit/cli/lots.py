"""``--lot CHEMICAL=97%``: what the jar at hand is."""

from collections.abc import Sequence
from decimal import Decimal

import click

from labelkit.chemistry.percents import parse_assay
from labelkit.errors import BadInput
from labelkit.mixing.catalogue import Catalogue

__all__ = ["lot_option", "lots_from"]

lot_option = click.option(
    "--lot", multiple=True, metavar="CHEMICAL=97%", help="The assay of a jar."
)


def lots_from(words: Sequence[str], catalogue: Catalogue) -> dict[str, Decimal]:
    """The assays [%] given with ``--lot``, by chemical id.

    Raises:
        BadInput: no '=', an unknown chemical, or a percentage that cannot be.
    """
    return dict(_lot(word, catalogue) for word in words)


def _lot(word: str, catalogue: Catalogue) -> tuple[str, Decimal]:
    name, equals, assay = word.partition("=")
    if not equals:
        raise BadInput(
            f"'{word}' has no '='",
            place="--lot",
            remedy="Write CHEMICAL=ASSAY, such as sodium-hydroxide=97%.",
        )
    try:
        return catalogue.find(name).id, parse_assay(assay)
    except BadInput as error:
        raise error.at("--lot") from None
