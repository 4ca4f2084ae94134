"""The shelf in one SQLite file."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date, datetime
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

from labelkit.mixing.ports import Event, Listed, Record, Standing
from labelkit.shelf import journal, lists, log, pages, rows, told
from labelkit.shelf.connection import ShelfFile
from labelkit.shelf.opening import open_file
from labelkit.shelf.told import Told, Unread

if TYPE_CHECKING:
    from labelkit.shelf.merging import Merged

__all__ = ["SqliteShelf", "open_shelf"]


def open_shelf(path: Path, *, create: bool) -> "SqliteShelf":
    """Open the shelf at ``path``; with ``create``, make an empty one if none is there.

    Raises:
        ShelfError: it is not there, no shelf of ours, damaged, of a newer labelkit,
            or cannot be opened.
    """
    return SqliteShelf(open_file(path, create=create))


class SqliteShelf:
    """All batches and what happened to them since; implements `mixing.ports.Shelf`.

    May be shared by threads and by processes. Every method that touches the file may
    raise `ShelfError`.
    """

    def __init__(self, file: ShelfFile) -> None:
        self._file = file

    def __enter__(self) -> "SqliteShelf":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()

    def __contains__(self, number: str) -> bool:
        with self._file.reading() as connection:
            found = connection.execute(
                "SELECT 1 FROM batch WHERE number = ?", (number,)
            )
            return found.fetchone() is not None

    def add(
        self, record: Record, *, finishes: str = "", events: Iterable[Event] = ()
    ) -> None:
        """Keep a batch for good, in one transaction; the same batch is kept once.

        Args:
            record: what to keep.
            events: what happened to other bottles with it: what was poured from them.
            finishes: the recipe whose draft is done with, forgotten in the same
                transaction, so that no crash can leave both.

        Raises:
            BadInput: the record is not fit to be kept.
            ShelfError: another batch has the number.
        """
        with self._file.writing() as connection:
            new = log.keep_batch(connection, record)
            for event in events if new else ():
                log.keep_event(connection, event)
            if finishes:
                journal.finish(connection, finishes)

    def get(self, number: str) -> Record:
        """The batch with that number, or `labelkit.errors.Unknown`."""
        with self._file.reading() as connection:
            return rows.record_of(log.find(connection, number))

    def all(self, limit: int | None = None, after: str = "") -> Iterator[Record]:
        """Batches, newest first: at most ``limit``, from the one after ``after``."""
        return lists.records(self._file, "", limit, after)

    def search(self, words: str, limit: int | None = None) -> Iterator[Record]:
        """Batches whose number, title, recipe or maker hold every word, newest first.

        Case and accents do not matter.
        """
        return lists.records(self._file, words, limit, "")

    def append(self, event: Event) -> None:
        """Write down what happened; the same event twice is kept once.

        Raises:
            Unknown: its batch is not on the shelf.
            BadInput: its batch has no such bottle, or it is not fit to be kept.
            ShelfError: another event has the id.
        """
        with self._file.writing() as connection:
            log.keep_event(connection, event)

    def events(self, number: str) -> Sequence[Event]:
        """What happened to a batch's bottles, oldest first."""
        with self._file.reading() as connection:
            return told.events(connection, number)

    def unread(self, number: str) -> Unread:
        """A batch with its log, its frozen data left as it is kept; or `Unknown`."""
        return told.unread(self._file, number)

    def told(self, numbers: Iterable[str], *, whole: bool = False) -> list[Told]:
        """Batches with their events, in the order asked for; unknown ones are left out.

        Args:
            numbers: of the batches.
            whole: whether the chemicals in them are wanted too; otherwise their
                records hold no more than `mixing.standing` looks at.
        """
        return told.told(self._file, numbers, whole=whole)

    def standing(self) -> Sequence[Standing]:
        """Every bottle that has not been discarded, newest batch first."""
        return lists.standing(self._file)

    def due(self, at: date) -> Sequence[Standing]:
        """Bottles past their date at ``at``, as `mixing.ports.Shelf.due` tells them."""
        return lists.due(self._file, at)

    def listed(
        self,
        show: str,
        at: datetime,
        *,
        words: str = "",
        recipe: str = "",
        skip: int = 0,
        limit: int = 50,
    ) -> Listed:
        """A page of batches, as `mixing.ports.Shelf.listed` tells them.

        Raises:
            BadInput: there is no such list.
        """
        return pages.listed(
            self._file,
            show,
            at,
            words=words,
            recipe=recipe,
            skip=skip,
            limit=limit,
        )

    def save_draft(self, recipe: str, data: Mapping[str, Any]) -> None:
        """Keep how far a mix of ``recipe`` has come, instead of what was kept."""
        journal.save_draft(self._file, recipe, data)

    def draft(self, recipe: str) -> dict[str, Any] | None:
        """How far the broken-off mix of ``recipe`` has come; None: there is none."""
        return journal.draft(self._file, recipe)

    def drafts(self) -> Sequence[str]:
        """The recipes of every broken-off mix."""
        return journal.drafts(self._file)

    def drop_draft(self, recipe: str) -> None:
        """Forget the broken-off mix of ``recipe``, if there is one."""
        journal.drop_draft(self._file, recipe)

    def backup(self, path: Path) -> None:
        """Copy the shelf whole to ``path``, checked, and there entirely or not at all.

        Raises:
            ShelfError: something is there already, or it cannot be written.
        """
        from labelkit.shelf import transfer

        transfer.backup(self._file, path)

    def export(self) -> Iterator[str]:
        """The shelf as JSON Lines, as it stood when this was called; without drafts."""
        from labelkit.shelf import transfer

        return transfer.export(self._file)

    def import_lines(self, lines: Iterable[str]) -> "Merged":
        """Merge exported lines; nothing that is here is overwritten.

        Raises:
            BadInput: a line cannot be read; nothing at all is taken then.
        """
        from labelkit.shelf import transfer

        return transfer.import_lines(self._file, lines)
