"""Card layouts: where each field of a mixing card stands, read from a TOML file."""

import tomllib
from collections.abc import Mapping
from functools import cache
from typing import Any

from msgspec import Struct, field

from labelkit.errors import BadInput, Unknown
from labelkit.printing.card_checks import COLUMNS, NUMBERS, card_faults
from labelkit.resources import templates_dir

__all__ = [
    "CardLayout",
    "Spot",
    "built_in_cards",
    "card_layout",
    "read_card",
    "read_spot",
]


class Spot(Struct, frozen=True):
    """One field's place [mm] and type [pt].

    Attributes:
        at: left edge and baseline of words, top left of anything else; words set to
            the right give their right edge.
        text: type sizes, the wanted first, the smallest last [pt].
        side: sides of a square, the wanted first [mm].
        small: the size of the lesser words beside it [pt].
        line: thickness of a stroke [mm].
        stops: right edges of the amounts, by the number of columns [mm].
    """

    at: tuple[float, float] = (0.0, 0.0)
    text: tuple[float, ...] = ()
    side: tuple[float, ...] = ()
    width: float = 0.0
    height: float = 0.0
    small: float = 0.0
    smallest: float = 0.0
    line: float = 0.0
    indent: float = 0.0
    gap: float = 0.0
    blank: float = 0.0
    stops: Mapping[int, tuple[float, ...]] = field(default_factory=dict)

    @property
    def x(self) -> float:
        """Left or right edge [mm]."""
        return self.at[0]

    @property
    def y(self) -> float:
        """Baseline or top [mm]."""
        return self.at[1]

    @property
    def pt(self) -> float:
        """The wanted type size [pt]."""
        return self.text[0]


class CardLayout(Struct, frozen=True):
    """The geometry of one card, both sides.

    Attributes:
        key: the name a person types.
        margin: nothing is printed nearer to the edge [mm].
        clear: nothing is printed above this [mm].
        module: one module of the code [mm].
        columns: batch sizes side by side, at most; 0 for a card without steps.
    """

    key: str
    title: str
    width: float
    height: float
    margin: float
    clear: float
    module: float
    columns: int
    front: Mapping[str, Spot]
    back: Mapping[str, Spot]

    @property
    def left(self) -> float:
        """Left edge of what is printed [mm]."""
        return self.margin

    @property
    def right(self) -> float:
        """Right edge of what is printed [mm]."""
        return self.width - self.margin


@cache
def built_in_cards() -> tuple[str, ...]:
    """The names of the card layouts that travel with labelkit."""
    folder = templates_dir() / "cards"
    return tuple(
        sorted(
            item.name.removesuffix(".toml")
            for item in folder.iterdir()
            if item.name.endswith(".toml")
        )
    )


@cache
def card_layout(key: str) -> CardLayout:
    """A built-in card layout by name.

    Raises:
        Unknown: there is no such layout.
    """
    if key not in built_in_cards():
        raise Unknown(
            f"there is no card layout '{key}'",
            remedy=f"Write one of {', '.join(built_in_cards())}.",
        )
    return read_card(
        (templates_dir() / "cards" / f"{key}.toml").read_text("utf-8"), key
    )


def read_card(source: str, key: str) -> CardLayout:
    """A card layout from the text of its file; ``key`` is the file's name.

    Raises:
        BadInput: every fault of the file together, each with its key.
    """
    place = f"{key}.toml"
    try:
        data = tomllib.loads(source)
    except tomllib.TOMLDecodeError as error:
        raise BadInput(str(error), place=place, remedy="Mend the TOML.") from None
    faults = [fault.at(place) for fault in card_faults(data)]
    if faults:
        raise BadInput.of(faults)
    width, height = data["size"]
    return CardLayout(
        key=key,
        title=data["title"],
        width=float(width),
        height=float(height),
        margin=float(data["margin"]),
        clear=float(data["clear"]),
        module=float(data["module"]),
        columns=data["columns"],
        front={name: read_spot(values) for name, values in data["front"].items()},
        back={name: read_spot(values) for name, values in data["back"].items()},
    )


def read_spot(values: Mapping[str, Any]) -> Spot:
    """A field's place from its table, which has no faults."""
    numbers: dict[str, Any] = {
        name: float(values[name]) for name in NUMBERS if name in values
    }
    lists: dict[str, Any] = {
        name: tuple(map(float, values[name]))
        for name in ("at", "text", "side")
        if name in values
    }
    stops = {
        count: tuple(map(float, values[word]))
        for count, word in enumerate(COLUMNS, 1)
        if word in values
    }
    return Spot(**numbers, **lists, stops=stops)
