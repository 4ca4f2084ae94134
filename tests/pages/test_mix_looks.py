"""The screens of mixing as a browser lays them out: sizes, contrast, focus."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from tests.pages.mixing_room import Room, open_room
from tests.pages.phone import PHONE, Phone
from tests.pages.test_style import MARKS, TEXT, contrast


@pytest.fixture
def address(bench: Path) -> Iterator[str]:
    with open_room(Room(bench)) as address:
        yield address


def screens(phone: Phone) -> Iterator[Page]:
    """Every screen, one after the other, with a fault where there can be one."""
    yield phone.open("plan")
    page = phone.open("plan/borate-alkali")
    page.locator("summary").first.click()
    yield page
    yield phone.open("plan/borate-alkali?make=abc")
    number = phone.start_weighing()
    yield page
    page.get_by_label("Read at step 2").fill("21")
    page.get_by_label("Read at step 5").fill("a bit")
    phone.press("All in: go on to the bottle")
    yield page
    page.get_by_label("Read at step 5").fill("")
    page.get_by_label("Really 21 g").check()
    phone.press("All in: go on to the bottle")
    page.wait_for_url("**/finish/**")
    page.get_by_label("Into which bottles").fill("9x9 L")
    phone.press("Save the batch")
    yield page
    yield phone.open("mixes")
    phone.open(f"finish/{number}")
    page.get_by_label("Into which bottles").fill("")
    phone.press("Save the batch")
    page.wait_for_url("**/done/**")
    yield page


# WCAG 2.2, 2.5.5 (AAA): targets of at least 44 by 44 CSS pixels.
SMALL = """() => [...document.querySelectorAll(
  "main button, main input:not([type=hidden]), main select, main .tick, main .first, "
  + "main summary, main .ways a, main a.way")]
  .filter((one) => one.checkVisibility() && !one.matches(".quiet, .tick input"))
  .map((one) => [one.outerHTML.slice(0, 80), one.getBoundingClientRect()])
  .filter(([, box]) => box.width < 44 || box.height < 44)
  .map(([name, box]) => `${name} ${box.width}x${box.height}`)"""


@pytest.mark.parametrize("width", [320, 360, 1280])
def test_nothing_runs_over_the_side_and_targets_are_large(
    browser: Browser, address: str, width: int
) -> None:
    size = {"width": width, "height": 640}
    with Phone(browser, address, viewport=size) as phone:
        count = 0
        for page in screens(phone):
            count += 1
            # WCAG 2.2, 1.4.10: down to 320 CSS pixels without scrolling across
            across = page.evaluate("document.documentElement.scrollWidth")
            assert across <= width, page.url
            assert page.evaluate(SMALL) == [], page.url
        assert count == 8
        assert phone.wrong == []


COLOURS = """() => {
  const rgb = (text) => "#" + text.match(/\\d+/g).slice(0, 3)
    .map((n) => Number(n).toString(16).padStart(2, "0")).join("");
  const ground = (one) => {
    for (let at = one; at; at = at.parentElement) {
      const colour = getComputedStyle(at).backgroundColor;
      if (!colour.startsWith("rgba(0, 0, 0, 0")) return rgb(colour);
    }
    return "#ffffff";
  };
  const told = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) {
    const one = walk.currentNode.parentElement;
    if (!walk.currentNode.data.trim() || !one.checkVisibility()) continue;
    if (one.closest("svg, script, style")) continue;
    told.push([rgb(getComputedStyle(one).color), ground(one)]);
  }
  const edges = [...document.querySelectorAll(".entry, select, .second")]
    .filter((one) => one.checkVisibility())
    .map((one) => [rgb(getComputedStyle(one).borderTopColor), ground(one)]);
  return [told, edges];
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_and_fields_stand_out_from_their_ground(
    browser: Browser, address: str, scheme: str
) -> None:
    # WCAG 2.2, 1.4.6 (7:1 for text) and 1.4.11 (3:1 for the edges of fields)
    with Phone(browser, address, color_scheme=scheme) as phone:
        for page in screens(phone):
            words, edges = page.evaluate(COLOURS)
            assert len(words) > 10
            faint = [pair for pair in words if contrast(*pair) < TEXT]
            assert faint == [], page.url
            assert [pair for pair in edges if contrast(*pair) < MARKS] == []


def test_a_field_in_focus_is_seen(browser: Browser, address: str) -> None:
    # WCAG 2.2, 2.4.7 and 2.4.11: focus is visible and not under the foot
    with Phone(browser, address) as phone:
        phone.start_weighing()
        page = phone.page
        for step in (1, 2, 4, 5):
            page.locator(f"#read-{step}").focus()
            outline, top, bottom = page.evaluate(
                """() => {
                  const field = document.activeElement.closest(".entry");
                  const box = field.getBoundingClientRect();
                  const style = getComputedStyle(field);
                  return [style.outlineWidth, box.top, box.bottom];
                }"""
            )
            assert outline == "3px"
            assert 0 <= top < bottom <= PHONE["height"]


def test_the_first_screen_at_the_sink_says_danger_and_what_to_wear(
    browser: Browser, address: str
) -> None:
    with Phone(browser, address) as phone:
        phone.start_weighing()
        page = phone.page
        for words in ("DANGER", "Wear protective gloves", "DO NOT DRINK"):
            box = page.get_by_text(re.compile(words)).first.bounding_box()
            assert box
            assert box["y"] + box["height"] <= PHONE["height"]


# How far a button is below what says STOP, where one follows [CSS pixels].
GAPS = """() => [...document.querySelectorAll(".stopper")].flatMap((stop) => {
  const below = stop.getBoundingClientRect().bottom;
  const tops = [...document.querySelectorAll("main button:not(.quiet)")]
    .map((one) => one.getBoundingClientRect().top - below).filter((gap) => gap > -1);
  return tops.length ? [Math.min(...tops)] : [];
})"""


def test_no_button_touches_what_says_stop(browser: Browser, bench: Path) -> None:
    (bench / "recipes" / "hot.toml").write_text(
        'title = "Too hot"\nmakes = "100 mL"\n'
        '[[step]]\nadd = "sodium-hydroxide"\namount = "40 g"\n'
        '[[step]]\nadd = "water"\namount = "80 mL"\n'
        '[[step]]\nmake_up_to = "100 mL"\n',
        "utf-8",
    )
    room = Room(bench)
    number = room.begun("hot")
    with open_room(room) as address, Phone(browser, address) as phone:
        page = phone.open(f"finish/{number}")
        gaps = page.evaluate(GAPS)
        phone.open("mixes")
        phone.press("Give it up")
        page.get_by_role("button", name="Yes, forget this mix").wait_for()
        gaps += page.evaluate(GAPS)
    assert len(gaps) >= 3
    assert min(gaps) >= 8
