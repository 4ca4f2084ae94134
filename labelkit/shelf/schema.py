"""The tables of the shelf, as ordered migrations that the file itself records.

``batch`` and ``event`` are the log: rows come in and never change, which triggers
see to, whoever opens the file. ``bottle`` follows from them and only makes the lists
fast. ``draft`` holds what is half done.
"""

import sqlite3
from contextlib import suppress
from datetime import UTC, datetime

__all__ = ["APPLICATION_ID", "HELD", "MIGRATIONS", "TABLES", "migrate", "version_of"]

APPLICATION_ID = int.from_bytes(b"lbkt")
TABLES = frozenset({"batch", "bottle", "draft", "event", "migration"})

_FIRST = (
    """
    CREATE TABLE migration (
        version INTEGER PRIMARY KEY,
        applied_at TEXT NOT NULL
    )
    """,
    # The wall clock orders batches, as the label shows it. The frozen JSON comes last,
    # so that reading the columns before it never touches its overflow pages.
    """
    CREATE TABLE batch (
        id INTEGER PRIMARY KEY,
        number TEXT NOT NULL UNIQUE,
        mixed_key TEXT NOT NULL,
        mixed_on TEXT NOT NULL,
        recipe TEXT NOT NULL,
        title TEXT NOT NULL,
        made_by TEXT NOT NULL,
        discard_after TEXT,
        bottles INTEGER NOT NULL CHECK (bottles > 0),
        words TEXT NOT NULL,
        data TEXT NOT NULL
    )
    """,
    # Paging and searching read this index and not the table.
    "CREATE INDEX batch_newest ON batch (mixed_key, number, words)",
    """
    CREATE TABLE event (
        id TEXT PRIMARY KEY,
        batch INTEGER NOT NULL REFERENCES batch (id),
        bottle INTEGER CHECK (bottle > 0),
        what TEXT NOT NULL,
        at_key TEXT NOT NULL,
        at TEXT NOT NULL,
        done_by TEXT NOT NULL,
        amount_mL TEXT NOT NULL,
        note TEXT NOT NULL,
        discard_after TEXT NOT NULL
    )
    """,
    "CREATE INDEX event_of_batch ON event (batch, at_key, id)",
    """
    CREATE TABLE bottle (
        batch INTEGER NOT NULL REFERENCES batch (id),
        bottle INTEGER NOT NULL,
        discard_key TEXT,
        discard_after TEXT,
        discarded INTEGER NOT NULL DEFAULT 0,
        PRIMARY KEY (batch, bottle)
    ) WITHOUT ROWID
    """,
    "CREATE INDEX bottle_standing ON bottle (discard_key) WHERE discarded = 0",
    "CREATE TABLE draft (recipe TEXT PRIMARY KEY, data TEXT NOT NULL)",
    *(
        f"""
        CREATE TRIGGER {table}_stays_on_{what.lower()} BEFORE {what} ON {table}
        BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END
        """
        for table in ("batch", "event")
        for what in ("UPDATE", "DELETE")
    ),
    # INSERT OR REPLACE deletes without asking the triggers above.
    """
    CREATE TRIGGER batch_stays_on_insert BEFORE INSERT ON batch
    WHEN EXISTS (SELECT 1 FROM batch WHERE number = NEW.number OR id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END
    """,
    """
    CREATE TRIGGER event_stays_on_insert BEFORE INSERT ON event
    WHEN EXISTS (SELECT 1 FROM event WHERE id = NEW.id)
    BEGIN SELECT RAISE(ABORT, 'the log is only added to'); END
    """,
)

# Lists of a shelf with 100 000 batches are read from an index and stop at a page. The
# use mark is part of the frozen words; only batches on hold are indexed by it.
HELD = "json_extract(data, '$.words.page.use_mark') = 'HOLD'"
_LISTED = (
    "ALTER TABLE bottle ADD COLUMN batch_key TEXT NOT NULL DEFAULT ''",
    """
    UPDATE bottle
    SET batch_key = (SELECT mixed_key FROM batch WHERE batch.id = bottle.batch)
    """,
    "CREATE INDEX bottle_newest ON bottle (batch_key, batch) WHERE discarded = 0",
    "CREATE INDEX bottle_gone ON bottle (batch_key, batch) WHERE discarded = 1",
    f"CREATE INDEX batch_held ON batch (mixed_key, number) WHERE {HELD}",
    "CREATE INDEX batch_of_recipe ON batch (recipe, mixed_key, number)",
)

# An event may count film, weigh a dry mixture, and name a place or another bottle.
_TOLD_MORE = tuple(
    f"ALTER TABLE event ADD COLUMN {name} TEXT NOT NULL DEFAULT ''"
    for name in ("amount_g", "treated", "source", "place")
)

MIGRATIONS: tuple[tuple[str, ...], ...] = (_FIRST, _LISTED, _TOLD_MORE)


def version_of(connection: sqlite3.Connection) -> int:
    """How many migrations the file has had."""
    (version,) = connection.execute("PRAGMA user_version").fetchone()
    return int(version)


def migrate(connection: sqlite3.Connection) -> None:
    """Bring the file to the newest form, all in one transaction or not at all."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        for version in range(version_of(connection), len(MIGRATIONS)):
            _apply(connection, version)
        connection.execute("COMMIT")
    except BaseException:
        with suppress(sqlite3.Error):
            connection.execute("ROLLBACK")
        raise


def _apply(connection: sqlite3.Connection, version: int) -> None:
    for statement in MIGRATIONS[version]:
        connection.execute(statement)
    now = datetime.now(UTC).isoformat(timespec="seconds")
    connection.execute("INSERT INTO migration VALUES (?, ?)", (version + 1, now))
    connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
    connection.execute(f"PRAGMA user_version = {version + 1}")
