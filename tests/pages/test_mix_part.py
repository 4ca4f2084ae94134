"""Planning and weighing by forms, asked without a browser."""

import re
from pathlib import Path

import pytest

from labelkit.mixing.desk import Typed
from labelkit.resources import templates_dir
from tests.pages.mixing_pages import page, values
from tests.pages.mixing_room import Room

MARKUP = "<b>Two</b> & \"three\" 'four'"


@pytest.fixture
def room(bench: Path) -> Room:
    return Room(bench)


def test_recipes_are_listed_with_links_that_lead_to_their_plans(room: Room) -> None:
    read = page(room.get("plan"))
    links = [href for href in read.values("href") if href.startswith("plan/")]
    assert len(links) == 11
    for link in links:
        assert "Start weighing" in page(room.get(link)).text


@pytest.mark.parametrize("path", ["PLAN/Borate-Alkali", "Plan/BORATE-ALKALI/"])
def test_case_and_a_last_slash_do_not_matter(room: Room, path: str) -> None:
    assert "Borate alkali stock" in page(room.get(path)).text


def test_a_plan_says_what_to_weigh_wear_and_beware_of(room: Room) -> None:
    read = page(room.get("plan/borate-alkali", "make=750"))
    for must in (
        "Plan for 750 mL", "450 mL", "26.0 g", "5.6 g", "DANGER", "Health hazard",
        "Wear protective gloves and eye protection.",
        "STOP Goggles on. A little at a time.", "Start weighing",
        "Call 01632 960 118",
    ):  # fmt: skip
        assert must in read.text, must
    assert values(read)["make"] == "750"


def test_the_form_keeps_what_was_chosen(room: Room) -> None:
    chosen = "form:borax-pentahydrate"
    read = page(
        room.get(
            "plan/borate-alkali",
            f"make=1+L&take-borax-decahydrate={chosen}&lot-sodium-hydroxide=97",
        )
    )
    assert "Changed: Borax pentahydrate for borax decahydrate" in read.text
    options = [attrs for tag, attrs in read.tags if tag == "option"]
    assert [a["value"] for a in options if "selected" in a] == [chosen]
    sent = values(read)
    assert sent["take-borax-decahydrate"] == chosen
    assert (sent["make"], sent["lot-sodium-hydroxide"]) == ("1 L", "97")
    assert "97 %" in read.text.replace("\xa0", " ")


def test_an_address_may_name_swaps_stocks_and_lots(room: Room) -> None:
    swap = "borax-decahydrate=borax-pentahydrate,sodium-hydroxide=potassium-hydroxide"
    read = page(
        room.get("plan/borate-alkali", f"swap={swap}&lot=potassium-hydroxide=90")
    )
    assert "Borax pentahydrate" in read.text
    assert "Potassium hydroxide 90 %" in read.text.replace("\xa0", " ")


@pytest.mark.parametrize(
    ("query", "field", "told"),
    [
        ("make=abc", "make", "does not start with a number"),
        ("make=5+g", "make", "is not a volume"),
        ("make=1,000", "make", "can be read in two ways"),
        ("lot-sodium-hydroxide=200", "lot-sodium-hydroxide", "200"),
        ("swap=borax-decahydrate=ghost", "take-borax-decahydrate", "ghost"),
        ("stock=borax-decahydrate=ABCD", "take-borax-decahydrate", "ABCD"),
        ("swap=ghost=borax-decahydrate", "", "ghost"),
        ("swap=borax-decahydrate", "take-borax-decahydrate", "chemical"),
        ("swap=sodium-hydroxide=metol", "", "different chemicals"),
        ("take-borax-decahydrate=form:%00", "", ""),
    ],
)
def test_a_wish_that_cannot_be_comes_back_with_its_fault(
    room: Room, query: str, field: str, told: str
) -> None:
    read = page(room.get("plan/borate-alkali", query), 422)
    assert told in read.text
    assert "This cannot be planned yet" in read.text
    assert "Start weighing" not in read.text
    if field:
        invalid = [a.get("id") for _, a in read.tags if a.get("aria-invalid")]
        assert field in invalid
        assert f"#{field}" in read.values("href")


def test_a_faulty_wish_begins_nothing(room: Room) -> None:
    read = page(room.post("plan/borate-alkali", {"make": "abc"}), 422)
    assert values(read)["make"] == "abc"
    assert room.desk.half_done() == ()


@pytest.mark.parametrize(
    ("use", "mark", "stops"),
    [("hold", "HOLD", 1), ("maker", "ASK R. Amara", 1), ("all", "SHARED", 0)],
)
def test_a_bottle_that_is_somebodys_is_not_offered_silently(
    room: Room, use: str, mark: str, stops: int
) -> None:
    number = room.begun("bromide-stock", by="R. Amara")
    end = {"do": "save", "use": use, "by": "R. Amara"}
    assert room.post(f"finish/{number}", end).status == 303
    read = page(room.get("plan/film-developer"))
    assert f"{mark}: Potassium bromide {number}" in read.text
    assert "is marked" not in read.text
    wished = f"stock=potassium-bromide={number}"
    read = page(room.get("plan/film-developer", wished))
    told = f"STOP Potassium bromide {number} is marked {mark}. Ask before you pour"
    assert read.text.count(told) == stops


@pytest.mark.parametrize(
    "path",
    [
        "plan/ghost", "plan/../..", "plan/a/b", "plan/a:b", "plan/" + "x" * 900,
        "weigh/ghost", "weigh/", "weigh/7M3K-2QWX-Y", "finish/7M3K-2QWX-Y",
        "done/7M3K-2QWX-Y", "done/", "mixes/more", "plan/<b>",
    ],
)  # fmt: skip
def test_what_is_not_there_is_a_page_that_says_so(room: Room, path: str) -> None:
    for answer in (room.get(path), room.post(path)):
        read = page(answer, 404)
        assert "No such page" in read.text
        assert read.count("b") < 20


@pytest.mark.parametrize("path", ["plan/\x00", "plan/" + "x" * 10_000, "weigh/a\x7fb"])
def test_an_address_no_link_has_is_refused(room: Room, path: str) -> None:
    assert page(room.get(path), 400).title == "This cannot be read"
    assert page(room.post(path), 400).title == "This cannot be read"


def test_a_recipe_with_faults_tells_them_and_offers_no_form(
    room: Room, bench: Path
) -> None:
    path = bench / "recipes" / "borate-alkali.toml"
    path.write_text(path.read_text("utf-8").replace("17.3 g", "17.3 blobs"), "utf-8")
    for answer in (
        room.get("plan/borate-alkali"),
        room.post("plan/borate-alkali"),
    ):
        read = page(answer, 422)
        assert "Cannot be worked out" in read.text
        assert "17.3 blobs" in read.text
        assert read.count("form") == 0


def test_markup_in_a_recipe_is_text_on_every_page(room: Room, bench: Path) -> None:
    path = bench / "recipes" / "citric-stop.toml"
    text = path.read_text("utf-8").replace(
        "Citric stop bath", MARKUP.replace('"', "''")
    )
    path.write_text(text, "utf-8")
    number = room.begun("citric-stop", by=MARKUP)
    for address in ("plan", "plan/citric-stop", "mixes", f"weigh/{number}"):
        body = room.get(address).body.decode()
        assert "<b>Two" not in body
        assert "&lt;b&gt;Two" in body
    assert room.post(f"finish/{number}", {"do": "save", "by": MARKUP}).status == 303
    body = room.get(f"done/{number}").body.decode()
    assert "<b>Two" not in body
    assert "&lt;b&gt;Two" in body


def test_why_a_mix_cannot_be_begun_stands_at_the_top_of_its_plan(
    room: Room, bench: Path
) -> None:
    salt = bench / "recipes" / "bromide-stock.toml"
    text = salt.read_text("utf-8").replace("Potassium bromide", "Bromide \u2697", 1)
    salt.write_text(text, encoding="utf-8")
    assert "cannot be begun yet" not in page(room.get("plan/bromide-stock")).text
    read = page(room.post("plan/bromide-stock"), 422)
    assert read.title.startswith("Look here: Plan")
    _, alert, rest = read.text.partition("This cannot be begun yet")
    assert alert, read.text
    told, _, _ = rest.partition("How much, of what")
    assert "bromide-stock.toml, title: " in told
    assert "Its label could not be printed. Write it in other words." in told
    assert page(room.get("mixes")).text.count("bromide") == 0


def test_a_mix_begins_with_a_number_and_is_listed(room: Room) -> None:
    number = room.begun(make="750", by="R. Amara")
    assert re.fullmatch(r"[0-9A-Z]{4}-[0-9A-Z]{4}-[0-9A-Z]", number)
    assert f"weigh/{number}" in page(room.get("mixes")).values("href")
    read = page(room.get(f"weigh/{number.lower()}"))
    assert "0 of 7 in" in read.text
    assert values(read)["token"]


def test_every_step_has_a_field_or_a_tick_and_cautions_come_first(room: Room) -> None:
    read = page(room.get(f"weigh/{room.begun()}"))
    fields = [n for n in values(read) if n.startswith(("read-", "tick-"))]
    assert fields == [
        "read-1", "read-2", "tick-3", "read-4", "read-5", "tick-6", "tick-7",
    ]  # fmt: skip
    assert read.text.index("STOP Goggles on.") < read.text.index("5 Sodium hydroxide")


def test_what_is_kept_leads_on_to_the_next_step(room: Room) -> None:
    number = room.begun()
    done = room.post(f"weigh/{number}", {"read-1": "290", "read-2": "17,4"})
    assert (done.status, done.location) == (303, f"../weigh/{number}#step-3")
    sent = values(page(room.get(f"weigh/{number}")))
    assert (sent["read-2"], sent["was-read-2"]) == ("17,4", "17,4")


def test_a_field_that_is_emptied_is_empty(room: Room) -> None:
    number = room.begun()
    room.post(f"weigh/{number}", {"read-2": "17.4", "tick-3": "1"})
    room.post(
        f"weigh/{number}", {"read-2": "", "was-read-2": "17.4", "was-tick-3": "1"}
    )
    assert room.desk.weighing(number).typed == Typed()


@pytest.mark.parametrize(
    "word", ["a pinch", "1,000", "9 9", "-1", "5\x00blobs", "\x00x"]
)
def test_a_reading_that_cannot_be_read_comes_back_beside_its_field(
    room: Room, word: str
) -> None:
    number = room.begun()
    read = page(room.post(f"weigh/{number}", {"read-1": "290", "read-2": word}), 422)
    sent = values(read)
    assert sent["read-1"] == "290"
    assert sent["read-2"] == " ".join(word.replace("\x00", " ").split())
    assert "Look at these readings. Everything is kept." in read.text
    invalid = [a.get("id") for _, a in read.tags if a.get("aria-invalid")]
    assert invalid == ["read-2"]


def test_a_reading_far_off_is_confirmed_by_a_tick(room: Room) -> None:
    number = room.begun()
    form = {"read-2": "21", "do": "finish"}
    read = page(room.post(f"weigh/{number}", form), 422)
    assert "21 is 21 % more than planned." in read.text  # 21 / 17.3 = 1.2139
    assert "Really 21 g" in read.text
    assert room.get(f"finish/{number}").location == f"../weigh/{number}"
    confirmed = {**form, "was-read-2": "21", "sure-2": "21"}
    done = room.post(f"weigh/{number}", confirmed)
    assert (done.status, done.location) == (303, f"../finish/{number}")
    read = page(room.get(f"weigh/{number}"))
    assert "To keep the strength:" in read.text
    assert "Go on like that" in read.text


def test_going_on_larger_changes_what_is_planned(room: Room) -> None:
    number = room.begun()
    form = {"read-2": "21", "sure-2": "21", "larger": "2"}
    done = room.post(f"weigh/{number}", form)
    assert done.location == f"../weigh/{number}#step-2"
    read = page(room.get(f"weigh/{number}"))
    assert "Weigh 605 mL" in read.text  # 500 x 21 / 17.3 = 606.9, on a 5 mL cylinder
    for nonsense in ("99", "x", "-1", "9" * 100, "²"):
        assert room.post(f"weigh/{number}", {"larger": nonsense}).status == 303


def test_going_on_larger_is_taken_back_with_what_else_was_typed(room: Room) -> None:
    number = room.begun()
    for nonsense in ("2", "99", "x", "-1", "9" * 100, "²"):
        assert room.post(f"weigh/{number}", {"back": nonsense}).status == 303
    room.post(f"weigh/{number}", {"read-2": "21", "sure-2": "21", "larger": "2"})
    read = page(room.get(f"weigh/{number}"))
    assert "Made larger for this: 605 mL in all." in read.text
    assert "Take that back: 500 mL" in read.text
    form = {"was-read-2": "21", "read-2": "a bit", "back": "2"}
    done = room.post(f"weigh/{number}", form)
    assert (done.status, done.location) == (303, f"../weigh/{number}#step-2")
    read = page(room.get(f"weigh/{number}"))
    assert "Weigh 500 mL" in read.text
    assert "Made larger" not in read.text
    assert values(read)["read-2"] == "a bit"


def test_what_is_filled_up_offers_no_way_back(room: Room) -> None:
    number = room.begun()
    room.post(f"weigh/{number}", {"read-2": "21", "sure-2": "21", "larger": "2"})
    room.post(f"weigh/{number}", {"tick-7": "1"})
    read = page(room.get(f"weigh/{number}"))
    assert "It is filled up, and stays so." in read.text
    assert "Take that back" not in read.text


def test_a_name_sent_twice_with_two_values_is_refused(room: Room) -> None:
    number = room.begun()
    for path in (f"weigh/{number}", f"finish/{number}", "plan/borate-alkali"):
        read = page(room.post(path, {"read-2": ("17", "18"), "make": ("1", "2")}), 422)
        assert "was sent with 2 values" in read.text
    assert room.post(f"weigh/{number}", {"read-2": ("17", "17 ")}).status == 303


def test_fields_that_no_form_has_are_passed_over(room: Room) -> None:
    number = room.begun()
    form = {"read-": "1", "read-x": "2", "read-99": "3", "tick-²": "1", "zzz": "4"}
    assert room.post(f"weigh/{number}", form).status == 303
    assert room.post(f"weigh/{number}").status == 303
    many = {f"read-{n}": "1" for n in range(2000)}
    assert page(room.post(f"weigh/{number}", many), 400).title == "This cannot be read"


def test_endless_words_are_cut_and_refused(room: Room) -> None:
    number = room.begun()
    long = "M" * 10_000
    form = {"do": "save", "by": long, "into": long, "ph": long, "use": long}
    answer = room.post(f"finish/{number}", form)
    read = page(answer, 422)
    assert "A name has at most 80 characters." in read.text
    assert len(answer.body) < 60_000
    read = page(room.post(f"weigh/{number}", {"read-2": long}), 422)
    assert len(values(read)["read-2"]) == 200


def test_the_style_of_forms_names_no_colour_and_loads_nothing() -> None:
    sheet = (templates_dir() / "pages" / "forms.css").read_text("utf-8")
    assert not re.search(r"#[0-9a-fA-F]{3}|rgb|hsl|\b(red|grey|gray|blue)\b", sheet)
    assert not re.search(r"url\(|@import|@font-face|</", sheet)
