"""The script's doses are the server's, figure by figure, and the page needs neither."""

import random
from collections.abc import Iterator
from decimal import Decimal
from pathlib import Path

import pytest
from msgspec.structs import replace
from playwright.sync_api import Browser, Page

from labelkit.pages.pouring import Pouring, entries
from labelkit.pages.publish import publish
from labelkit.shelf import open_shelf
from tests.pages.print_room import BORATE, BROMIDE_PAGE, ROOM, Cards, record

# Types each text into a field and reads what is said of it.
ANSWERS = """([name, texts]) => {
  const form = document.querySelector(`input[name=${name}]`).form;
  return texts.map((text) => {
    form.querySelector("input").value = text;
    form.requestSubmit();
    const said = form.querySelector(".said");
    return [form.querySelector("output b").textContent, said.textContent,
            said.classList.contains("fault")];
  });
}"""
# Strengths of every kind: known well, known badly, not known; small, large, endless.
STRENGTHS = (
    ("20.003", 0.014), ("10", 0.0099), ("10", 0.01), ("4", None), ("0.35", 0.002),
    ("333.3333333333333333333333333", 0.05), ("1E+1", 0.03), ("149.9999", 0.0004),
)  # fmt: skip


@pytest.fixture(scope="module")
def typed() -> list[str]:
    """Amounts as people write them, and half-way cases of rounding."""
    drawn = random.Random(4711)
    amounts = [f"{drawn.uniform(0.01, 400):.{drawn.randrange(4)}f}" for _ in range(150)]
    edges = ["1", "0,5", ".5", "2.5 g", "1.25", "1.45", "0.0025", "9.95", "99.5", "995"]
    return [text for text in (*amounts, *edges) if Decimal("0") != _number(text)]


def _number(text: str) -> Decimal:
    return Decimal(text.removesuffix(" g").replace(",", "."))


@pytest.fixture(scope="module")
def sites(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """A page for each strength."""
    folder = tmp_path_factory.mktemp("strengths")
    found = []
    for n, (mL_per_g, relative_u) in enumerate(STRENGTHS):
        page = replace(BROMIDE_PAGE, number=BORATE, mL_per_g=Decimal(mL_per_g))
        data = dict(record(page, None).data)
        data["answer"] = {"strength": {"relative_u": relative_u}}
        with open_shelf(folder / f"{n}.sqlite3", create=True) as shelf:
            shelf.add(record(page, None, data=data))
            publish(folder / str(n), shelf, Cards(), ROOM)
        found.append(folder / str(n) / "B" / BORATE / "index.html")
    return found


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 360, "height": 640})
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("n", range(len(STRENGTHS)), ids=str)
def test_both_tell_the_same(
    page: Page, sites: list[Path], typed: list[str], n: int
) -> None:
    mL_per_g, relative_u = STRENGTHS[n]
    pouring = Pouring(Decimal(mL_per_g), relative_u, Decimal(250), Decimal(500))
    page.goto(sites[n].as_uri())
    for name in ("g", "mL"):
        texts = [t for t in typed if name == "g" or not t.endswith("g")]
        answered = page.evaluate(ANSWERS, [name, texts])
        place = ("g", "mL").index(name)
        for text, (told, said, fault) in zip(texts, answered, strict=True):
            entry = entries(pouring, {name: text})[place]
            assert (told, said, fault) == (entry.told, entry.remark, False), text


@pytest.mark.parametrize(
    "text", ["abc", "0", "-1", "1,000", "1 2", "3 mg", "1e3", "½", "9" * 13, "1.2.3"]
)
def test_what_cannot_be_read_is_told_what_to_write(
    page: Page, sites: list[Path], text: str
) -> None:
    page.goto(sites[0].as_uri())
    ((told, said, fault),) = page.evaluate(ANSWERS, ["g", [text]])
    assert (told, fault) == ("", True)
    assert said == "Write grams as a number, such as 2.5."


def test_nothing_is_at_fault_in_a_number_that_is_only_begun(
    page: Page, sites: list[Path]
) -> None:
    page.goto(sites[0].as_uri())
    field = page.get_by_label("Grams wanted")
    seen = []
    for text in ("0", "0.", "0.5"):
        field.fill(text)
        seen.append((page.locator(".said").first.inner_text(),
                     page.locator(".pour output").first.inner_text()))  # fmt: skip
    # half of 20.003 mL
    assert [said for said, _ in seen] == ["", "", ""]
    assert seen[-1][1] == "10 mL"


def test_without_script_a_kept_page_has_its_table_and_no_dead_field(
    browser: Browser, sites: list[Path]
) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto(sites[0].as_uri())
    assert not page.locator(".pour").is_visible()
    assert page.get_by_role("heading", name="Doses at a glance").is_visible()
    context.close()


def test_the_script_is_the_one_the_policy_names(page: Page, sites: list[Path]) -> None:
    said: list[str] = []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(sites[0].as_uri())
    page.get_by_label("mL poured").fill("60")
    page.keyboard.press("Enter")
    assert page.locator(".pour output").last.inner_text() == "3 g"
    assert said == []
    assert page.url == sites[0].as_uri()
