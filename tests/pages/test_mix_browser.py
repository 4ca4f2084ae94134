"""From phone to bottle as a browser does it: by thumb, without script, broken off."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from labelkit.mixing.desk import Finish
from tests.cli.conftest import labelkit
from tests.cli.terminal import as_json
from tests.pages.mixing_room import Room, open_room
from tests.pages.phone import DESK, PHONE, Phone
from tests.pages.test_mix_looks import SMALL

DIFFERS = {"batch", "mixed_on"}
KEPT = "Everything so far is kept."


@pytest.fixture
def room(bench: Path) -> Room:
    return Room(bench)


@pytest.fixture
def address(room: Room) -> Iterator[str]:
    with open_room(room) as address:
        yield address


def weighed_by_option(bench: Path) -> dict[str, Any]:
    """What ``mix --weighed`` makes of the same readings."""
    answer = labelkit(
        "mix", "borate-alkali", "--bench", bench, "--make", "750mL",
        "--weighed", "2=26.4g", "--weighed", "5=5.7g", "--made-up-to", "755mL",
        "--into", "3x250mL", "--by", "M. Osei", "--use", "maker", "--json",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    return shown(bench, as_json(answer.out)["batch"])


def shown(bench: Path, number: str) -> dict[str, Any]:
    kept = as_json(labelkit("show", number, "--bench", bench, "--json").out)
    return {name: value for name, value in kept.items() if name not in DIFFERS}


def to_the_bottle(phone: Phone) -> str:
    """The four screens with the usual readings; the number of the batch."""
    page = phone.open("plan/borate-alkali")
    page.get_by_label("Make").fill("750")
    phone.press("Work it out")
    expect(page.get_by_text("Plan for 750 mL")).to_be_visible()
    page.get_by_label("Who mixes").fill("M. Osei")
    phone.press("Start weighing")
    number = phone.number()
    page.get_by_label("Read at step 2").fill("26,4")
    page.get_by_label("Done: step 3").check()
    page.get_by_label("Read at step 5").fill("5.7")
    phone.press("All in: go on to the bottle")
    page.wait_for_url("**/finish/**")
    assert page.get_by_label("Mixed by").input_value() == "M. Osei"
    page.get_by_label("Made up to").fill("755")
    page.get_by_label("Into which bottles").fill("3x250")
    page.get_by_label("Ask who mixed it").check()
    phone.press("Save the batch")
    page.wait_for_url(f"**/done/{number}")
    assert page.get_by_role("link", name="The 3 labels, as PDF").is_visible()
    return number


@pytest.mark.parametrize("viewport", [PHONE, DESK], ids=["phone", "desk"])
@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_four_screens_end_in_the_batch_that_mix_keeps(
    browser: Browser,
    bench: Path,
    address: str,
    viewport: dict[str, int],
    script: bool,
) -> None:
    with Phone(
        browser, address, viewport=viewport, java_script_enabled=script
    ) as phone:
        number = to_the_bottle(phone)
        assert phone.wrong == []
    assert shown(bench, number) == weighed_by_option(bench)


def test_without_script_keep_so_far_survives_a_reload(
    browser: Browser, address: str
) -> None:
    with Phone(browser, address, java_script_enabled=False) as phone:
        phone.start_weighing()
        page = phone.page
        page.get_by_label("Read at step 2").fill("17.4")
        phone.press("Keep so far")
        page.wait_for_url("**#step-3")
        page.reload()
        assert page.get_by_label("Read at step 2").input_value() == "17.4"
        assert page.get_by_text("2 of 7 in").is_visible()


def test_with_script_a_field_is_kept_when_it_is_left(
    browser: Browser, address: str
) -> None:
    with Phone(browser, address) as phone:
        number, page = phone.start_weighing(), phone.page
        page.get_by_label("Read at step 1").fill("295")
        page.get_by_label("Read at step 2").fill("17.4")
        page.get_by_label("Read at step 4").focus()
        expect(page.locator("#count")).to_have_text("2 of 7 in")
        phone.says(KEPT)
        assert page.evaluate("document.activeElement.id") == "read-4"
        page.reload()
        assert page.get_by_label("Read at step 2").input_value() == "17.4"
        other = phone.context.new_page()
        other.goto(f"{address}mixes")
        other.get_by_role("link", name="Borate alkali stock").click()
        assert other.get_by_label("Read at step 1").input_value() == "295"
        assert number in other.url


def test_a_doubt_an_offer_and_what_goes_in_on_top_come_without_a_reload(
    browser: Browser, bench: Path, address: str
) -> None:
    with Phone(browser, address) as phone:
        number, page = phone.start_weighing(), phone.page
        page.get_by_label("Read at step 2").fill("17.3")
        phone.read(5, "4.625")
        page.get_by_label("Really 4.625 g").check()
        expect(page.get_by_text("4.3 g more of Borax decahydrate")).to_be_visible()
        phone.press("Go on like that")
        page.wait_for_url("**#step-5")
        expect(page.get_by_text("Weigh 625 mL")).to_be_visible()
        page.get_by_label("More at step 2").fill("4.3")
        page.get_by_label("More at step 2").blur()
        phone.says(KEPT)
        phone.press("All in: go on to the bottle")
        page.wait_for_url("**/finish/**")
        phone.press("Save the batch")
        page.wait_for_url("**/done/**")
        assert phone.wrong == []
    weighed = {row["step"]: row["g"] for row in shown(bench, number)["weighed"]}
    assert (weighed[2], weighed[5]) == (21.6, 4.625)


@pytest.mark.parametrize("script", [True, False], ids=["script", "no script"])
def test_a_wrong_reading_that_made_it_larger_is_taken_back(
    browser: Browser, bench: Path, address: str, script: bool
) -> None:
    with Phone(browser, address, java_script_enabled=script) as phone:
        number, page = phone.start_weighing(), phone.page
        page.get_by_label("Read at step 2").fill("17.3")
        page.get_by_label("Read at step 5").fill("37")
        phone.press("Keep so far")
        page.get_by_label("Really 37 g").check()
        phone.press("Keep so far")
        phone.press("Go on like that")
        expect(page.get_by_text("Weigh 5 L")).to_be_visible()
        page.get_by_label("Read at step 5").fill("3.7")
        phone.press("Take that back: 500 mL")
        expect(page.get_by_text("Weigh 500 mL")).to_be_visible()
        assert page.url.endswith("#step-5")
        assert page.evaluate(SMALL) == []
        assert page.evaluate("document.documentElement.scrollWidth") <= 360
        phone.press("All in: go on to the bottle")
        told = "173.0 g was planned here meanwhile. Write all that is in, or confirm."
        expect(page.get_by_role("link", name=f"Step 2: {told}")).to_be_visible()
        page.get_by_label("Really 17.3 g").check()
        phone.press("All in: go on to the bottle")
        page.wait_for_url("**/finish/**")
        page.get_by_label("Made up to").fill("500")
        page.get_by_label("Mixed by").fill("R. Amara")
        phone.press("Save the batch")
        page.wait_for_url("**/done/**")
        assert phone.wrong == []
    answer = labelkit(
        "mix", "borate-alkali", "--bench", bench, "--weighed", "2=17.3g",
        "--weighed", "5=3.7g", "--made-up-to", "500mL", "--by", "R. Amara", "--json",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    assert shown(bench, number) == shown(bench, as_json(answer.out)["batch"])


def test_what_is_typed_while_it_is_being_kept_stays(
    browser: Browser, address: str
) -> None:
    with Phone(browser, address) as phone:
        phone.start_weighing()
        page = phone.page
        for step, word in ((1, "301"), (2, "17.2"), (4, "51"), (5, "3.8")):
            page.locator(f"#read-{step}").press_sequentially(word, delay=15)
        page.locator("#read-5").blur()
        expect(page.locator("#count")).to_have_text("5 of 7 in")
        phone.says(KEPT)
        page.reload()
        found = [page.locator(f"#read-{n}").input_value() for n in (1, 2, 4, 5)]
        assert found == ["301", "17.2", "51", "3.8"]


def test_what_could_not_be_kept_is_said_and_tried_again(
    browser: Browser, room: Room, address: str
) -> None:
    with Phone(browser, address) as phone:
        number = phone.start_weighing()
        phone.context.set_offline(True)
        phone.read(2, "17.4")
        phone.says(re.compile("^NOT KEPT"))
        phone.context.set_offline(False)
        phone.says(KEPT)
    assert room.desk.weighing(number).typed.read == {2: "17.4"}


def test_a_mix_saved_elsewhere_is_not_said_to_be_kept(
    browser: Browser, room: Room, address: str
) -> None:
    with Phone(browser, address) as phone:
        number, page = phone.start_weighing(), phone.page
        room.desk.save(number, Finish(by="R. Amara"))
        phone.read(2, "17.4")
        phone.says(re.compile("^NOT KEPT: This mix is on the"))
        page.reload()
        assert page.url.endswith(f"/done/{number}")


def test_a_page_whose_cookie_is_gone_says_how_nothing_typed_is_lost(
    browser: Browser, room: Room, address: str
) -> None:
    with Phone(browser, address) as phone:
        number, page = phone.start_weighing(), phone.page
        phone.context.clear_cookies()
        phone.read(2, "17.4")
        phone.says(
            "NOT KEPT: Send it once more. Press Keep so far, at the end of the page: "
            "nothing typed is lost."
        )
        phone.press("Keep so far")
        phone.press("Send it")
        page.wait_for_url("**/weigh/**#step-3")
    assert room.desk.weighing(number).typed.read == {2: "17.4"}


def test_a_mix_goes_on_after_the_server_was_started_again(
    browser: Browser, bench: Path
) -> None:
    room = Room(bench)
    with open_room(room) as address, Phone(browser, address) as phone:
        number, page = phone.start_weighing(), phone.page
        page.get_by_label("Read at step 2").fill("17.4")
        phone.press("Keep so far")
        page.wait_for_url("**#step-3")
    room.place.shelf.close()
    with open_room(Room(bench)) as address, Phone(browser, address) as phone:
        page = phone.open(f"weigh/{number}")
        assert page.get_by_label("Read at step 2").input_value() == "17.4"


def test_an_enter_key_keeps_and_does_not_go_on(browser: Browser, address: str) -> None:
    with Phone(browser, address) as phone:
        phone.start_weighing()
        page = phone.page
        page.get_by_label("Read at step 2").fill("17.4")
        page.get_by_label("Read at step 2").press("Enter")
        page.wait_for_url("**/weigh/**#step-3")
        assert page.get_by_label("Read at step 2").input_value() == "17.4"


def test_a_shelf_that_goes_away_is_told_and_the_reading_can_be_sent_again(
    browser: Browser, bench: Path, address: str
) -> None:
    with Phone(browser, address, java_script_enabled=False) as phone:
        phone.start_weighing()
        page = phone.page
        page.get_by_label("Read at step 2").fill("17.4")
        shutil.move(bench / "shelf.sqlite3", bench / "away.sqlite3")
        phone.press("Keep so far")
        assert page.get_by_text("Nothing was written down.").is_visible()
        shutil.move(bench / "away.sqlite3", bench / "shelf.sqlite3")
