"""A bottle that was found, on the terminal."""

from collections.abc import Iterator

from labelkit.cli.words import WIDTH, fact, filled
from labelkit.mixing.found import found_page
from labelkit.mixing.ports import Record

__all__ = ["found_words"]

_TERM = 18


def found_words(record: Record) -> Iterator[str]:
    """What is known of a bottle that was found, for the terminal, a block each."""
    page = found_page(record)
    yield f"{page.name}   {page.number}\n{'=' * WIDTH}\n{page.never}\nDO NOT DRINK"
    known = [fact(one.term, one.text, _TERM) for one in page.facts]
    claim = page.claim_by or "no day was set"
    known.append(fact("Claim by", f"{claim}, {page.then}", _TERM))
    yield "\n".join(known)
    yield filled(
        "Treat as hazardous: what is in it is not known, so nothing is calculated."
    )
    call = page.emergency or "your emergency number"
    first = "".join(run.text for run in page.first_words)
    yield filled(f"{first} Call: {call}.")
