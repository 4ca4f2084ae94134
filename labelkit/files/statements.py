"""Reads the wording of hazard and precautionary statements."""

import tomllib
from typing import Any

from labelkit.errors import BadInput, Fault
from labelkit.hazards.statements import Statement, Statements, complete_or
from labelkit.resources import data_dir

__all__ = ["read_statements"]

ENGLISH = "en"


def read_statements(language: str = ENGLISH) -> Statements:
    """The statements of a language, or the English ones whole if it is not complete.

    Raises:
        BadInput: the file is there and cannot be read; every fault at once.
    """
    english = _read(ENGLISH)
    if english is None:
        raise BadInput(
            "the statements are missing",
            place=_file(ENGLISH),
            remedy="Install labelkit again.",
        )
    return complete_or(english if language == ENGLISH else _read(language), english)


def _read(language: str) -> Statements | None:
    path = data_dir() / _file(language)
    if not language.isalpha() or not path.is_file():
        return None
    try:
        document = tomllib.loads(path.read_text("utf-8"))
    except tomllib.TOMLDecodeError as error:
        raise BadInput(
            f"no TOML: {error}", place=_file(language), remedy="Mend the line named."
        ) from error
    return _statements(document, language)


def _file(language: str) -> str:
    return f"statements.{language}.toml"


def _statements(document: dict[str, Any], language: str) -> Statements:
    rows = document.get("statement", [])
    faults = [f for n, row in enumerate(rows, 1) for f in _faults(row, n, rows)]
    if faults:
        raise BadInput.of(fault.at(_file(language)) for fault in faults)
    return Statements(
        language=language,
        by_code={row["code"]: _statement(row) for row in rows},
        fill=document.get("fill", {}),
    )


def _faults(
    row: dict[str, Any], number: int, rows: list[dict[str, Any]]
) -> list[Fault]:
    place = f"statement {number}"
    missing = [key for key in ("code", "text", "source", "seen") if key not in row]
    if missing:
        problem = f"{', '.join(missing)} left out"
        return [Fault(place, problem, "Write code, text, source and seen.")]
    if any(row["code"] == other.get("code") for other in rows[: number - 1]):
        problem = f"{row['code']} stands there twice"
        return [Fault(place, problem, "Keep one of the two.")]
    return []


def _statement(row: dict[str, Any]) -> Statement:
    return Statement(
        code=row["code"],
        text=row["text"],
        printed=row.get("printed", ""),
        dry=row.get("dry", ""),
        source=row["source"],
        seen=row["seen"],
    )
