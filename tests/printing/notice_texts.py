"""Notices as a room would have them printed, and some that nobody would want."""

from datetime import date, datetime
from typing import Any

from labelkit.files.rules import read_rules
from labelkit.mixing.bench import Settings
from labelkit.mixing.finding import Found, freeze_found
from labelkit.mixing.found import found_notice
from labelkit.mixing.notices import NoticeText
from labelkit.mixing.waste import Ingredient, waste_notice

ROOM = Settings(
    room="Tern Street Print Room",
    emergency="01632 960 118",
    disposal="the Tern Street waste shelf",
    base_url="https://bottles.example.org",
)
BARE = Settings()
NUMBER = "0NKN-4W88-2"
FOUND_ON = datetime.fromisoformat("2031-03-14T09:30")
DEVELOPER = Ingredient(
    "Film developer",
    ("metol", "sodium sulfite", "hydroquinone", "potassium carbonate"),
    frozenset({"developer", "sulfite-source", "base", "carbonate"}),
    number="7K3M-Q9TX-8",
)
KNOWN: dict[str, Any] = {
    "where": "window sill of the wash room, behind the blue bucket",
    "by": "M. Osei",
    "looks": "brown glass, 250 mL, dark, a crust",
    "says": "D 7, half a word, smeared",
    "claim_by": date(2031, 4, 14),
}


def unknown(settings: Settings = ROOM, **known: Any) -> NoticeText:
    found = Found(FOUND_ON, **known)
    return found_notice(freeze_found(found, NUMBER, settings))


def waste(
    *ingredients: Ingredient,
    never: tuple[str, ...] = (),
    settings: Settings = ROOM,
    **told: str,
) -> NoticeText:
    return waste_notice(ingredients, never, read_rules(), settings, **told)


NOTICES = {
    "unknown-empty": unknown(BARE),
    "unknown-known": unknown(ROOM, **KNOWN),
    "waste-of-a-batch": waste(DEVELOPER),
    "waste-in-own-words": waste(Ingredient("used toner"), settings=BARE),
    "waste-as-told": waste(
        Ingredient("fixer rinse"), never=("acid", "bleach"),
        started="2031-03-14", by="M. Osei",
    ),
}  # fmt: skip
