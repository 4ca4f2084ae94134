"""What happens to a bottle: written down, told back, and warned of."""

import pytest

from tests.cli.conftest import Answer, Run, kept
from tests.cli.terminal import as_json


def mixed(run: Run, *words: str) -> str:
    answer = run("mix", *words, "--on", "2031-03-14T18:05", "--json")
    assert answer.code == 0, answer.err
    return str(as_json(answer.out)["batch"])


def logged(run: Run, *words: str) -> Answer:
    answer = run("log", *words)
    assert answer.code == 0, answer.err
    return answer


def test_a_volume_poured_is_missing_from_the_bottle(run: Run) -> None:
    number = mixed(run, "pyro-a", "--into", "2x125 mL")
    answer = logged(
        run, f"{number}/2", "used", "20", "mL", "--by", "R. Amara",
        "--on", "2031-04-01T09:30",
    )  # fmt: skip
    assert answer.out == (
        f"{number}/2: used 20 mL on 2031-04-01 09:30\n"
        "Part full: 105 mL of 125 mL left. Discard after 2031-09-14.\n"
    )
    assert answer.err == ""
    first, second = kept(number)["standing"]
    assert (first["state"], first["left"]) == ("full", {"mL": 125})
    assert (second["state"], second["left"]) == ("part full", {"mL": 105})
    (event,) = kept(number)["events"]
    assert (event["mL"], event["bottle"], event["by"]) == ("20", 2, "R. Amara")


def test_film_is_counted_to_the_last_roll_and_past_it(run: Run) -> None:
    number = mixed(run, "plain-fixer", "--make", "500mL")
    # 20 rolls a litre, as its recipe says: 10 for this bottle
    assert "6 of 10 rolls left." in logged(run, number, "used", "4", "rolls").out
    last = logged(run, number, "used", "20 sheets")
    assert "Last roll: 1 of 10 rolls left." in last.out
    assert last.err == f"Look out: {number}: Last roll: 1 of 10 rolls left.\n"
    over = logged(run, number, "used", "2", "8x10")
    assert "OVER: 11 rolls through it, good for 10 rolls." in over.out
    assert over.err.startswith(f"Look out: {number}: OVER: 11 rolls through it")
    shelf = run("shelf").out
    assert "More went through it than it is good for: mix fresh" in shelf
    capacity = kept(number)["standing"][0]["capacity"]
    assert capacity == {
        "of": "roll", "holds": 10, "used": 11, "left": 0, "last": True, "over": True,
    }  # fmt: skip


def test_topping_up_keeps_the_older_date_of_the_two(run: Run) -> None:
    old = run("mix", "plain-fixer", "--on", "2031-03-01", "--json")
    source = str(as_json(old.out)["batch"])
    number = mixed(run, "plain-fixer")
    answer = logged(run, number, "topped-up", "100mL", "--from", source)
    # it keeps two months, from the first of March
    assert f"topped-up 100 mL from {source}" in " ".join(answer.out.split())
    told = " ".join(answer.out.split())
    assert f"Discard after 2031-05-01 (topped up from {source} 2031-05-01)." in told
    (bottle,) = kept(number)["standing"]
    assert (bottle["discard_after"], bottle["past"]) == ("2031-05-01", False)
    assert kept(number)["events"][0]["from"] == source


def test_another_solution_poured_in_is_told(run: Run) -> None:
    source, number = mixed(run, "bromide-stock"), mixed(run, "plain-fixer")
    answer = logged(run, number, "topped-up", "--from", source)
    assert "not what its label says" in " ".join(answer.err.split())
    (event,) = kept(number)["events"]
    assert event["note"].endswith("is another solution")


def test_a_discarded_bottle_is_logged_all_the_same(run: Run) -> None:
    number = mixed(run, "pyro-a")
    assert logged(run, number, "discarded").out.endswith("Discarded 2031-05-01.\n")
    answer = logged(run, number, "used", "5mL")
    assert f"{number} was discarded 2031-05-01; it is written down" in answer.err
    assert len(kept(number)["events"]) == 2


def test_where_it_was_moved_and_what_a_test_showed(run: Run) -> None:
    number = mixed(run, "pyro-a")
    logged(run, number, "moved", "--to", "cupboard B", "--by", "L. Teal")
    logged(run, number, "tested", "--note", "clip black in 2 min")
    out = run("show", number).out
    assert "2031-05-01 12:00  moved to cupboard B by L. Teal" in out
    assert "2031-05-01 12:00  tested: clip black in 2 min" in out
    assert "Stands: cupboard B." in " ".join(out.split())
    assert "  at cupboard B" in run("shelf").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("used", "3"),
            "amount: '3' does not say of what. Write it as 2 rolls, 4 sheets (4x5), "
            "1 sheet 8x10 or 80 in2, or 60 mL.",
        ),
        (
            ("used", "5g"),
            "amount: '5g' is not a volume. Write mL or L.",
        ),
        (
            ("opened", "--on", "2031-05-02"),
            "--on: 2031-05-02 lies in the future. Write down what has happened, when "
            "it has.",
        ),
        (
            ("opened", "--on", "2031-03-13"),
            "--on: 2031-03-13 is before it was mixed, 2031-03-14 18:05. Write a later "
            "day, or look whether this is the right bottle.",
        ),
        (
            ("topped-up", "--from", "7K3M-Q9TX-8"),
            "--from: no batch '7K3M-Q9TX-8' on this shelf. labelkit shelf lists what "
            "there is.",
        ),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    words: tuple[str, ...], said: str, run: Run
) -> None:
    number = mixed(run, "bromide-stock")
    answer = run("log", number, *words)
    assert (answer.code, answer.out, answer.err) == (2, "", f"{said}\n")
    assert kept(number)["events"] == []


def test_what_is_poured_into_a_mix_is_logged_with_it(run: Run) -> None:
    a = mixed(run, "pyro-a", "--into", "2x125 mL")
    b = mixed(run, "pyro-b")
    answer = run(
        "mix", "pyro-working", "--stock", f"pyro-a={a}/2", "--stock", f"pyro-b={b}",
        "--make", "510mL", "--weighed", "recipe:pyro-a=6mL", "--by", "M. Osei",
        "--on", "2031-04-01T10:00", "--json",
    )  # fmt: skip
    assert answer.code == 0, answer.err
    bath = as_json(answer.out)["batch"]
    (used,) = kept(a)["events"]
    # as read off the cylinder, from the bottle that was named
    assert (used["what"], used["mL"], used["bottle"]) == ("used", "6", 2)
    assert (used["note"], used["by"]) == (f"for {bath}", "M. Osei")
    assert used["at"] == "2031-04-01 10:00"
    second = kept(a)["standing"][1]
    assert second["left"] == {"mL": 119}
    (used,) = kept(b)["events"]
    assert (used["bottle"], used["note"]) == (None, f"for {bath}")


def test_a_mix_that_takes_from_no_bottle_logs_nothing(run: Run) -> None:
    a = mixed(run, "pyro-a")
    assert run("mix", "pyro-working").code == 0
    assert kept(a)["events"] == []


def test_a_mix_that_takes_more_than_the_bottle_holds_is_kept_and_told(run: Run) -> None:
    a, b = mixed(run, "pyro-a", "--use", "hold"), mixed(run, "pyro-b")
    logged(run, a, "used", "248mL")
    answer = run(
        "mix", "pyro-working", "--stock", f"pyro-a={a}", "--stock", f"pyro-b={b}",
        "--make", "510mL",
    )  # fmt: skip
    assert answer.code == 0
    assert f"Look out: {a}: Empty: 3 mL more used than it held.\n" in answer.err
    assert f"Look out: {a} is marked HOLD.\n" in answer.err
    assert b not in answer.err
