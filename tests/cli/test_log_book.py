"""What a page writes down is what `labelkit log` would have written."""

from datetime import datetime
from pathlib import Path
from threading import Thread

import pytest
from msgspec.structs import replace

from labelkit.cli.label_maker import BenchLabels
from labelkit.cli.log_book import LogBook
from labelkit.cli.workplace import Workplace
from labelkit.errors import BadInput, NoAnswer, Unknown
from labelkit.mixing.ports import Said
from tests.cli.conftest import labelkit
from tests.cli.terminal import batch_of

FORM = "0" * 31 + "1"


@pytest.fixture
def number(bench: Path) -> str:
    """A batch in two bottles that keep for a shorter time once some was poured out."""
    recipe = bench / "recipes" / "borate-alkali.toml"
    text = recipe.read_text("utf-8")
    recipe.write_text(f'keeps_part_full = "2 months"\n{text}', "utf-8")
    answer = labelkit("mix", "borate-alkali", "--into", "2x250mL", "--bench", bench)
    return batch_of(answer.out)


def test_page_and_command_write_down_the_same(
    bench: Path, place: Workplace, number: str
) -> None:
    command = labelkit(
        "log", f"{number}/2", "used", "60mL", "--by", "M. Osei", "--bench", bench
    )
    assert command.code == 0
    said = Said(number, 2, "used", "60 mL", by="M. Osei", id=FORM)
    by_page = LogBook(place).write(said)
    one, two = place.shelf.events(number)
    assert by_page in (one, two)
    assert by_page.id == FORM
    assert by_page.discard_after
    (by_command,) = [event for event in (one, two) if event.id != FORM]
    assert replace(by_command, id="", at=by_page.at) == replace(by_page, id="")


def test_a_form_sent_twice_is_written_down_once_even_at_the_same_moment(
    place: Workplace, number: str
) -> None:
    said, book = Said(number, 1, "opened", id=FORM), LogBook(place)
    threads = [Thread(target=book.write, args=[said]) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    (event,) = place.shelf.events(number)
    assert book.write(said) == event


def test_a_form_sent_again_with_something_else_is_refused(
    place: Workplace, number: str
) -> None:
    book = LogBook(place)
    book.write(Said(number, 1, "used", "60 mL", id=FORM))
    with pytest.raises(NoAnswer) as caught:
        book.write(Said(number, 1, "used", "80 mL", id=FORM))
    assert "written down as: used 60 mL" in str(caught.value)
    assert len(place.shelf.events(number)) == 1
    book.write(Said(number, 1, "used", "60 mL", id="f" * 32))
    assert len(place.shelf.events(number)) == 2


@pytest.fixture
def older(bench: Path) -> str:
    """A batch of the first of April, 10:00; it is the first of May now."""
    answer = labelkit(
        "mix", "borate-alkali", "--into", "2x250mL", "--on", "2031-04-01T10:00",
        "--bench", bench,
    )  # fmt: skip
    return batch_of(answer.out)


@pytest.mark.parametrize(
    "when",
    [
        "yesterday", "15:40", "14.04.2031", "2031-4-14", "2031-04-31",
        "2031-04-14 25:00", "now", "-", "2031-05-01 12:01", "2031-05-02", "9999-12-31",
        "2031-04-01 09:59", "2031-03-31", "0001-01-01", "2031-04-14T15:40 " + "x" * 900,
        "2031\x00-04-14",
    ],
)  # fmt: skip
def test_a_time_that_cannot_be_is_refused_as_at_the_terminal(
    bench: Path, place: Workplace, older: str, when: str
) -> None:
    with pytest.raises(BadInput) as caught:
        LogBook(place).write(Said(older, 1, "used", "60 mL", id=FORM, at=when))
    (fault,) = caught.value.faults
    assert fault.place == "--on"
    by_command = labelkit(
        "log", f"{older}/1", "used", "60mL", "--on", when, "--bench", bench
    )
    assert by_command.code == 2
    assert " ".join(by_command.err.split()) == " ".join(str(caught.value).split())
    assert place.shelf.events(older) == []


@pytest.mark.parametrize(
    ("when", "at"),
    [
        ("2031-04-14", "2031-04-14T00:00"),
        ("2031-04-14T15:40", "2031-04-14T15:40"),
        (" 2031-04-14   15:40 ", "2031-04-14T15:40"),
        ("2031-04-01", "2031-04-01T00:00"),  # the day it was mixed, without a time
        ("2031-04-01 10:00", "2031-04-01T10:00"),
        ("2031-05-01 12:00", "2031-05-01T12:00"),  # this very minute
        ("  ", "2031-05-01T12:00"),
        ("", "2031-05-01T12:00"),
    ],
)
def test_what_happened_earlier_is_written_down_as_by_the_command(
    bench: Path, place: Workplace, older: str, when: str, at: str
) -> None:
    said = Said(older, 2, "used", "60 mL", id=FORM, at=when)
    by_page = LogBook(place).write(said)
    assert by_page.at == datetime.fromisoformat(at)
    on = at.removesuffix("T00:00")
    command = labelkit(
        "log", f"{older}/2", "used", "60mL", "--on", on, "--bench", bench
    )
    assert command.code == 0, command.err
    one, two = place.shelf.events(older)
    assert replace(one, id="") == replace(two, id="")


def test_a_form_about_earlier_is_written_down_once_and_not_with_another_time(
    place: Workplace, older: str
) -> None:
    book = LogBook(place)
    said = Said(older, 1, "used", "60 mL", id=FORM, at="2031-04-14 15:40")
    event = book.write(said)
    assert book.write(said) == event
    assert book.write(replace(said, at="2031-04-14T15:40")) == event
    with pytest.raises(NoAnswer) as caught:
        book.write(replace(said, at="2031-04-14"))
    told = "written down as: used 60 mL on 2031-04-14 15:40."
    assert told in str(caught.value)
    assert place.shelf.events(older) == [event]


def test_a_form_about_now_is_refused_with_a_time_the_second_time(
    place: Workplace, older: str
) -> None:
    book, said = LogBook(place), Said(older, 1, "opened", id=FORM)
    event = book.write(said)
    with pytest.raises(NoAnswer, match="opened on 2031-05-01 12:00"):
        book.write(replace(said, at="2031-04-14"))
    assert place.shelf.events(older) == [event]


def test_two_people_write_at_once_and_both_are_kept(
    bench: Path, place: Workplace, number: str
) -> None:
    other = Workplace(bench)

    def write(where: Workplace, first: int) -> None:
        for n in range(first, first + 10):
            form = f"{n:032x}"
            LogBook(where).write(Said(number, 1, "tested", note=f"{n}", id=form))

    threads = [Thread(target=write, args=a) for a in ((place, 0), (other, 10))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert {e.note for e in place.shelf.events(number)} == {str(n) for n in range(20)}
    other.shelf.close()


def test_what_cannot_be_read_is_refused_as_at_the_terminal(
    place: Workplace, number: str
) -> None:
    book = LogBook(place)
    with pytest.raises(BadInput, match="unknown unit"):
        book.write(Said(number, 1, "used", "60 mls"))
    with pytest.raises(Unknown, match="7K3M-Q9TX-8"):
        book.write(Said("7K3M-Q9TX-8", 1, "opened"))
    with pytest.raises(BadInput, match=r"^--from: "):
        book.write(Said(number, 1, "topped-up", "10 mL", source="7K3M-Q9TX-8"))
    with pytest.raises(BadInput, match="cannot be topped up from itself"):
        book.write(Said(number, 1, "topped-up", "10 mL", source=f"{number}/1"))
    assert place.shelf.events(number) == []


def test_labels_for_a_page_are_those_of_the_command(
    bench: Path, place: Workplace, number: str, tmp_path: Path
) -> None:
    record, maker = place.shelf.get(number), BenchLabels(place)
    for named, bottle in ((number, None), (f"{number}/2", 2)):
        out = tmp_path / "label.pdf"
        assert labelkit("label", named, "-o", out, "--bench", bench).code == 0
        assert maker.labels(record, bottle) == out.read_bytes()


def test_words_that_cannot_be_read_are_refused_in_words(
    place: Workplace, number: str
) -> None:
    torn = replace(place.shelf.get(number), data={"words": {}})
    with pytest.raises(BadInput, match="cannot be read"):
        BenchLabels(place).labels(torn)
