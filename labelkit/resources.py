"""Where the files that travel with labelkit are, in a checkout and in a wheel."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path

__all__ = ["data_dir", "samples_dir", "templates_dir"]


def data_dir() -> Traversable:
    """The folder of sourced figures, ``labelkit/data``."""
    return files("labelkit") / "data"


def templates_dir() -> Traversable:
    """The folder of layouts and pages a person may copy and change."""
    return _packed_or_beside("templates")


def samples_dir() -> Traversable:
    """The folder of the demo bench."""
    return _packed_or_beside("samples")


def _packed_or_beside(name: str) -> Traversable:
    packed = files("labelkit") / name
    return packed if packed.is_dir() else Path(__file__).resolve().parent.parent / name
