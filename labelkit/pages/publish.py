"""The site as static files, for any web host, a shared drive or a memory stick."""

import json
import secrets
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from hashlib import sha256
from pathlib import Path

from msgspec import Struct

from labelkit.errors import ShelfError
from labelkit.mixing.bench import Settings
from labelkit.mixing.ports import CardBook
from labelkit.pages.renderer import GENERATOR
from labelkit.pages.site import Page, Site
from labelkit.pages.unread import PageShelf

__all__ = ["MANIFEST", "Published", "publish"]

MANIFEST = ".labelkit-pages.json"
_OURS = f'<meta name="generator" content="{GENERATOR}">'.encode()
_HEAD = 4096  # bytes of a page in which it says whose it is


class Published(Struct, frozen=True):
    """How many pages there are, and how many of them were new or changed."""

    pages: int
    written: int


def publish(
    folder: Path, shelf: PageShelf, cards: CardBook, settings: Settings
) -> Published:
    """Write every page into ``folder`` that is not there yet as it should be.

    Each is written beside its place and then renamed, so that a visitor finds the old
    page or the new one, never half of either. Nothing else in the folder is touched.

    Raises:
        ShelfError: the folder cannot be written to, or holds somebody else's page in
            a place of ours.
    """
    with _told_plainly(folder):
        folder.mkdir(parents=True, exist_ok=True)
        before = _read_manifest(folder)
        after: dict[str, str] = {}
        written = 0
        for page in Site(shelf, cards, settings).everything():
            digest = sha256(page.body).hexdigest()
            if not _is_there(folder, page, digest, before):
                _replace(folder / page.path, page.body)
                written += 1
            after[page.path] = digest
        if before | after != before:
            text = json.dumps(before | after, indent=0, sort_keys=True)
            _write(folder / MANIFEST, text.encode())
    return Published(len(after), written)


def _is_there(folder: Path, page: Page, digest: str, before: Mapping[str, str]) -> bool:
    """Whether the page stands in the folder as it should; its size is looked at too."""
    if before.get(page.path) != digest:
        return False
    try:
        return (folder / page.path).stat().st_size == len(page.body)
    except FileNotFoundError:
        return False


def _replace(path: Path, body: bytes) -> None:
    if path.is_file() and not _is_ours(path):
        raise ShelfError(
            "is there already, and no page of labelkit",
            place=str(path),
            remedy="Move it away, or publish into a folder of its own.",
        )
    path.parent.mkdir(parents=True, exist_ok=True)
    _write(path, body)


def _is_ours(path: Path) -> bool:
    with path.open("rb") as file:
        return _OURS in file.read(_HEAD)


def _write(path: Path, body: bytes) -> None:
    beside = path.with_name(f".{path.name}.{secrets.token_hex(4)}.new")
    try:
        with beside.open("xb") as file:
            file.write(body)
        beside.replace(path)
    finally:
        with suppress(FileNotFoundError):
            beside.unlink()


def _read_manifest(folder: Path) -> dict[str, str]:
    """What was written last time; a manifest that cannot be read is as good as none."""
    try:
        read = json.loads((folder / MANIFEST).read_bytes())
    except (FileNotFoundError, ValueError):
        return {}
    return read if isinstance(read, dict) else {}


@contextmanager
def _told_plainly(folder: Path) -> Iterator[None]:
    """What the drive answers, as one line."""
    try:
        yield
    except OSError as error:
        why = (error.strerror or "the drive refuses").lower()
        raise ShelfError(
            f"the pages cannot be written: {why}",
            place=str(folder),
            remedy="Name a folder that may be written to.",
        ) from error
