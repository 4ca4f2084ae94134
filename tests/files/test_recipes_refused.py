"""Every fault of a recipe at once: file, key path, value, what to write instead."""

from collections.abc import Callable

import pytest

HEAD = 'title = "Stock"\nmakes = "100 mL"\n'
STEP = '[[step]]\nadd = "sodium-chloride"\namount = "5 g"\n'


def test_all_faults_of_a_file_are_told_at_once(
    told: Callable[[str], list[str]],
) -> None:
    text = """
makes = "500 mL"
keeps = "1.5 years"
colour = "red"
[[step]]
add = "sodium-chloride"
amount = "5 mls"
[[step]]
add = "foo"
amount = 17.3
[[step]]
make_up_to = "400 mL"
"""
    assert [line.partition(": ")[0] for line in told(text)] == [
        "stock.toml, title",
        "stock.toml, step 1, amount",
        "stock.toml, step 2, add",
        "stock.toml, step 2, amount",
        "stock.toml, step 3, make_up_to",
        "stock.toml, keeps",
        "stock.toml, colour",
    ]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param(
            f'title = "Stock"\n{STEP}',
            'makes: is missing. Write makes = "500 mL".',
            id="makes left out",
        ),
        pytest.param(
            f'title = " "\nmakes = "100 mL"\n{STEP}',
            'title: is empty. Write title = "Borate alkali stock".',
            id="an empty title",
        ),
        pytest.param(
            f"title = 5\nmakes = '100 mL'\n{STEP}",
            'title: 5 is a bare number. Write title = "text in quotes".',
            id="a number for a text",
        ),
        pytest.param(
            f'note = "a\\u001b[31m"\n{HEAD}{STEP}',
            "note: holds a character that cannot be printed (U+001B). "
            "Write it without.",
            id="a control character",
        ),
        pytest.param(
            f'keep = "12 months"\n{HEAD}{STEP}',
            "keep: is not a known key. Did you mean keeps?",
            id="an unknown key",
        ),
        pytest.param(
            f'{HEAD}{STEP}[strength]\nof = "salt of nowhere"\n',
            "strength, of: no chemical is called 'salt of nowhere'. "
            "Write an id from the list of chemicals, or add it as your own.",
            id="an unknown strength",
        ),
        pytest.param(
            f"{HEAD}{STEP}[strength]\n",
            'strength, of: is missing. Write of = "sodium-metaborate-tetrahydrate".',
            id="a strength of nothing",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[reaction]]\nfrom = ["sodium-chloride"]\nto = []\n',
            'reaction 1, to: names no chemical. Write to = ["borax-decahydrate"].',
            id="a reaction to nothing",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[reaction]]\nfrom = "sodium-chloride"\n'
            'to = ["silver-nitrate"]\n',
            "reaction 1, from: 'sodium-chloride' is a text. "
            'Write from = ["borax-decahydrate"].',
            id="a reaction without a list",
        ),
        pytest.param(
            f'{HEAD}{STEP}[use]\nratio = "1:10"\n',
            "use, ratio: '1:10' can be read as 1+9 (the last number is the whole) or "
            "as 1+10 (the last number is a part). Write 1+9 or 1+10.",
            id="a ratio with a colon",
        ),
        pytest.param(
            f'{HEAD}{STEP}[use]\nratio = "1+1+1+100"\nwith = ["b"]\n',
            "use, ratio: has 4 parts for this and b. "
            "Write one part for each and, last, one for water.",
            id="more parts than things",
        ),
        pytest.param(
            f'{HEAD}{STEP}[use]\nwith = ["stock"]\n',
            "use, with: names this recipe itself. Name the others only.",
            id="a recipe that goes with itself",
        ),
        pytest.param(
            f'{HEAD}{STEP}[use]\ncapacity = {{ amount = 10, of = "roll" }}\n',
            "use, capacity, per: is missing. "
            'Write capacity = { amount = 10, of = "roll", per = "1 L" }.',
            id="a capacity of nothing",
        ),
        pytest.param(
            f'{HEAD}{STEP}[use]\ncapacity = {{ amount = 0, of = "a", per = "1 L" }}\n',
            "use, capacity, amount: '0' is out of reach. "
            "Write a number from 0.001 to 1000000.",
            id="no capacity",
        ),
        pytest.param(
            f"{HEAD}{STEP}[measured]\nph = 15.1\n",
            "measured, ph: '15.1' is out of reach. Write a number from -1 to 15.",
            id="a pH out of reach",
        ),
        pytest.param(
            f"{HEAD}{STEP}[measured]\nph = nan\n",
            "measured, ph: 'NaN' is out of reach. Write a number from -1 to 15.",
            id="a pH that is no number",
        ),
        pytest.param(
            f'{HEAD}{STEP}[measured]\nph = "11.2"\n',
            "measured, ph: '11.2' is a text. Write a number from -1 to 15.",
            id="a pH in quotes",
        ),
        pytest.param(
            f"{HEAD}{STEP}[measured]\ndensity = 1.02\n",
            'measured, density: 1.02 is a bare number. Write density = "1.02 g/mL".',
            id="a density without a unit",
        ),
        pytest.param(
            f'headline = "big"\n{HEAD}{STEP}',
            "headline: 'big' is not known. "
            "Write one of: equivalence, dilution, ready, dry.",
            id="an unknown headline",
        ),
        pytest.param(
            f'headline = "dilution"\n{HEAD}{STEP}',
            "headline: 'dilution' has nothing to tell. Write [use] ratio too.",
            id="a headline without its ratio",
        ),
        pytest.param(
            f'part = "AB"\n{HEAD}{STEP}',
            "part: 'AB' is not one letter. Write part = \"A\".",
            id="a part of two letters",
        ),
        pytest.param(
            f'set = "pyro"\n{HEAD}{STEP}',
            'set: is a set without a part. Write part = "A" too.',
            id="a set without a part",
        ),
        pytest.param(
            f'drop = "1 g"\n{HEAD}{STEP}',
            "drop: '1 g' is not the size of a drop. Write it in mL, such as 0.05 mL.",
            id="a drop in grams",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "own"\namount = "5 g"\n[[chemical]]\n'
            'id = "own"\nstat = "solid"\n',
            "own, stat: is not a known key. Did you mean state?",
            id="a fault in a chemical of its own",
        ),
    ],
)
def test_a_fault_is_told_with_its_place_and_what_to_write(
    told: Callable[[str], list[str]], text: str, line: str
) -> None:
    assert told(text) == [f"stock.toml, {line}"]
