"""From a phone in the network: the PIN wrong, then right, and a bottle in the log."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page

from tests.cli.conftest import labelkit
from tests.cli.terminal import batch_of
from tests.pages.mixing_room import Room, open_room
from tests.pages.phone import PHONE, Phone
from tests.pages.served import HOST, free_port, program

LEAST = 44  # CSS pixels; WCAG 2.2, 2.5.5


@pytest.fixture
def number(bench: Path) -> str:
    """A batch in two bottles on a shelf of its own."""
    answer = labelkit("mix", "borate-alkali", "--into", "2x250mL", "--bench", bench)
    return batch_of(answer.out)


@pytest.fixture
def served(bench: Path, number: str) -> Iterator[tuple[str, str]]:
    """The address, and the PIN that was shown."""
    port = free_port()
    with program(bench, port, "--lan") as (_, said):
        found = re.search(r"PIN, .*: (\d{3} \d{3})$", said, re.MULTILINE)
        assert found is not None
        yield f"http://{HOST}:{port}", found[1]


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport=PHONE, java_script_enabled=False)  # type: ignore[arg-type]
    yield context
    context.close()


def small_targets(page: Page) -> list[str]:
    """What can be tapped in the form and is less than 44 pixels high or wide."""
    found = []
    for target in page.locator(
        "main button, main select, main form label:has(span)"
    ).all():
        box = target.bounding_box()
        if box and target.is_visible() and min(box["height"], box["width"]) < LEAST:
            found.append(target.inner_text())
    return found


def test_a_bottle_is_written_down_from_a_phone(
    phone: BrowserContext, served: tuple[str, str], number: str
) -> None:
    address, pin = served
    wrong = "000 000" if pin != "000 000" else "000 001"
    page = phone.new_page()
    page.goto(f"{address}/B/{number}")
    page.get_by_role("link", name="Write down what happened").click()
    assert page.get_by_role("heading", level=1).inner_text() == "PIN"
    page.get_by_label("PIN", exact=True).fill(wrong)
    page.get_by_role("button", name="Go on").click()
    assert "That is not the PIN." in page.locator("main").inner_text()
    assert small_targets(page) == []
    page.get_by_label("PIN", exact=True).fill(pin)
    page.get_by_role("button", name="Go on").click()
    assert page.url == f"{address}/log/{number}"
    assert not page.get_by_label("How much").is_visible()
    page.get_by_role("radio", name="Bottle 2").check()
    page.get_by_role("radio", name="Used").check()
    assert small_targets(page) == []
    page.get_by_label("How much").fill("60")
    page.get_by_label("By", exact=True).fill("M. Osei")
    page.get_by_role("button", name="Write it down").click()
    assert page.url == f"{address}/B/{number}/index.html#since"
    since = page.get_by_role("region", name="What happened since").inner_text()
    assert "used 60 mL by M. Osei" in since.replace("\u00a0", " ")
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]


def test_what_happened_earlier_is_typed_and_a_fault_stands_beside_it(
    browser: Browser, bench: Path
) -> None:
    words = ("--into", "2x250mL", "--on", "2021-04-01T10:00", "--bench", bench)
    number = batch_of(labelkit("mix", "borate-alkali", *words).out)
    with (
        open_room(Room(bench)) as address,
        Phone(browser, address, java_script_enabled=False) as phone,
    ):
        page = phone.open(f"log/{number}/2")
        when = page.get_by_label("When", exact=True)
        page.get_by_role("radio", name="Opened").check()
        page.get_by_label("Note").fill("for the workshop")
        for typed, words_said in (
            ("yesterday", "'yesterday' is not a date."),
            ("2021-03-31", "2021-03-31 is before it was mixed, 2021-04-01 10:00."),
            ("9999-12-31", "9999-12-31 lies in the future."),
        ):
            when.fill(typed)
            phone.press("Write it down")
            assert words_said in page.locator("#fault-when").inner_text()
            assert "fault-when" in str(when.get_attribute("aria-describedby"))
            assert when.input_value() == typed
            assert page.get_by_label("Note").input_value() == "for the workshop"
            assert (
                page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
            )
        box = when.bounding_box()
        assert box
        assert box["height"] >= LEAST
        when.fill("2021-04-14 15:40")
        phone.press("Write it down")
        page.wait_for_url(f"**/B/{number}/index.html#since")
        since = page.get_by_role("region", name="What happened since").inner_text()
        assert phone.wrong == []
    assert "2021-04-14 15:40" in since


def test_a_form_that_was_open_before_the_pin_lapsed_loses_nothing(
    phone: BrowserContext, served: tuple[str, str], number: str
) -> None:
    address, pin = served
    page = phone.new_page()
    page.goto(f"{address}/pin?to=log/{number}/1")
    page.get_by_label("PIN", exact=True).fill(pin)
    page.get_by_role("button", name="Go on").click()
    page.get_by_role("radio", name="Tested").check()
    page.get_by_label("Note").fill('clears in "90 s" & smells')
    phone.clear_cookies()
    page.get_by_role("button", name="Write it down").click()
    assert page.get_by_role("heading", level=1).inner_text() == "PIN"
    page.get_by_label("PIN", exact=True).fill(pin)
    page.get_by_role("button", name="Go on").click()
    page.get_by_role("button", name="Send it").click()
    assert page.url == f"{address}/B/{number}/index.html#since"
    since = page.get_by_role("region", name="What happened since").inner_text()
    assert 'clears in "90 s" & smells' in since
