"""The layouts in a bench's own folder: labels, cards and sheets, told apart by key."""

import tomllib
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from labelkit.printing.card_layout import CardLayout
    from labelkit.printing.layouts import Layout
    from labelkit.printing.sheets import Sheet

__all__ = ["OwnLayouts", "read_any"]

# A key that only one kind of layout has; a label has neither.
ONLY_OF_A_CARD, ONLY_OF_A_SHEET = "front", "paper"


class OwnLayouts:
    """The layouts in a folder, each read when it is asked for.

    Every method may raise `labelkit.errors.BadInput` for a file with faults.
    """

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder

    def files(self) -> tuple[Path, ...]:
        """Every layout there is, in alphabetical order."""
        if self._folder is None or not self._folder.is_dir():
            return ()
        return tuple(sorted(f for f in self._folder.glob("*.toml") if f.is_file()))

    def labels(self) -> "tuple[Layout, ...]":
        """The label layouts."""
        from labelkit.printing.layouts import read_layout

        return tuple(read_layout(f) for f in self.files() if _kind(f) == "label")

    def cards(self) -> "dict[str, CardLayout]":
        """The card layouts, by name."""
        from labelkit.printing.card_layout import read_card

        named = {f.stem: f for f in self.files() if _kind(f) == "card"}
        return {
            name: read_card(f.read_text("utf-8"), name) for name, f in named.items()
        }

    def sheets(self) -> "dict[str, Sheet]":
        """The sheets, by name."""
        from labelkit.printing.sheet_files import read_sheet

        named = [f.stem for f in self.files() if _kind(f) == "sheet"]
        return {name: read_sheet(name, self._folder) for name in named}


def read_any(path: Path) -> object:
    """Read the layout in a file, of whatever kind it is.

    Raises:
        BadInput: every fault of the file.
    """
    from labelkit.printing.card_layout import read_card
    from labelkit.printing.layouts import read_layout
    from labelkit.printing.sheet_files import read_sheet

    kind = _kind(path)
    if kind == "card":
        return read_card(path.read_text("utf-8"), path.stem)
    return read_sheet(path.stem, path.parent) if kind == "sheet" else read_layout(path)


def _kind(path: Path) -> str:
    """``card``, ``sheet``, or ``label``, which is also what cannot be read is."""
    try:
        keys = tomllib.loads(path.read_text("utf-8")).keys()
    except (tomllib.TOMLDecodeError, UnicodeDecodeError):
        return "label"
    if ONLY_OF_A_CARD in keys:
        return "card"
    return "sheet" if ONLY_OF_A_SHEET in keys else "label"
