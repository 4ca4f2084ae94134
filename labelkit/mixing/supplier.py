"""Who supplies a bottle: what the law asks its label to name."""

from msgspec.structs import replace

from labelkit.errors import BadInput, Fault
from labelkit.mixing.bench import Settings
from labelkit.mixing.words import BottleText

__all__ = ["supplied", "supplier_words"]

# Regulation (EC) No 1272/2008, Article 17(1)(a): name, address and telephone number.
_ASKED = {
    "room": "Tern Street Print Room",
    "address": "3 Tern Street, Harbourton",
    "phone": "01632 960 119",
}


def supplier_words(settings: Settings) -> str:
    """Name, address and telephone number; "" where a bottle is given to nobody."""
    if settings.profile != "supply":
        return ""
    return ", ".join(p for p in (settings.room, settings.address, settings.phone) if p)


def supplied(text: BottleText, settings: Settings) -> BottleText:
    """A bottle's words as it may be supplied; unchanged where it is given to nobody.

    A bottle that was filled for the room itself is given its supplier's name.

    Raises:
        BadInput: the supplier's name, address or telephone number is not known.
    """
    if settings.profile != "supply":
        return text
    missing = [key for key in _ASKED if not getattr(settings, key).strip()]
    if missing:
        raise BadInput.of(
            Fault(
                f"labelkit.toml, {key}",
                'is empty, and profile = "supply" prints it on the label',
                f'Write {key} = "{_ASKED[key]}", as it is with you.',
            )
            for key in missing
        )
    return replace(text, supplier=text.supplier or supplier_words(settings))
