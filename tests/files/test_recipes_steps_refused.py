"""Steps that cannot be done, or could mean two things, are refused."""

from collections.abc import Callable

import pytest

HEAD = 'title = "Stock"\nmakes = "100 mL"\n'
STEP = '[[step]]\nadd = "sodium-chloride"\namount = "5 g"\n'
MADE_UP = '[[step]]\nmake_up_to = "100 mL"\n'
POUR = '[[step]]\npour = "jug"\n'
JUG = '[[step]]\nin = "jug"\nadd = "water"\namount = "5 mL"\n'


@pytest.mark.parametrize(
    ("text", "line"),
    [
        pytest.param(
            f'{HEAD}{STEP}keeps = "12 months"\n',
            "step 1, keeps: is not a known key. "
            "Write it at the top of the file, above the first [table].",
            id="a key that strayed into a step",
        ),
        pytest.param(
            HEAD,
            "step: no step adds anything. Write [[step]] with add, amount.",
            id="no step",
        ),
        pytest.param(
            f'{HEAD}[step]\nadd = "water"\n',
            "step: {'add': 'water'} is a table. Write each as a table, [[step]].",
            id="a step in single brackets",
        ),
        pytest.param(
            f"{HEAD}{STEP}[[step]]\n",
            "step 2: does nothing. Write one of: add, make_up_to, pour, cool_to, text.",
            id="a step without a deed",
        ),
        pytest.param(
            f'{HEAD}{STEP}cool_to = "25 degC"\n',
            "step 1: does more than one thing: add, cool_to. Write a step for each.",
            id="a step with two deeds",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\n',
            'step 1, amount: is missing. Write amount = "8.7 g".',
            id="add without an amount",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\ntext = "Stir."\namount = "5 g"\n',
            "step 2, amount: stands in a step that adds nothing. Write add too.",
            id="an amount without add",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\namount = 5\n',
            'step 1, amount: 5 is a bare number. Write amount = "8.7 g".',
            id="an amount without quotes",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\namount = true\n',
            'step 1, amount: true is not what is asked for. Write amount = "8.7 g".',
            id="an amount that is true",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\namount = 2031-03-14\n',
            'step 1, amount: 2031-03-14 is a date or time. Write amount = "8.7 g".',
            id="an amount that is a date",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "sodium-chloride"\namount = "3 mL"\n',
            "step 1, amount: '3 mL' is a volume of a solid, which weighs more or less "
            "as it is packed. Weigh the sodium-chloride: write g.",
            id="a volume of a solid",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "recipe:pyro-a"\namount = "5 g"\n',
            "step 1, amount: '5 g' is a mass of a solution. "
            "Write how many mL are poured.",
            id="a mass of another recipe's solution",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "recipe:Stock"\namount = "5 mL"\n',
            "step 1, add: 'recipe:Stock' is this recipe itself. "
            "Name another recipe, or a chemical.",
            id="a recipe that adds itself",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "recipe:../x"\namount = "5 mL"\n',
            "step 1, add: '../x' is no name of a recipe. "
            "Write the name of its file without .toml, such as pyro-a.",
            id="a recipe outside the folder",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "distilled water"\namount = "5 mL"\n',
            "step 1, add: 'distilled water' is a kind of water. "
            'Write add = "water" and kind = "distilled".',
            id="a kind of water for water",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\namount = "5 mL"\nkind = "rain"\n',
            "step 1, kind: 'rain' is not known. Write one of: tap, boiled, distilled.",
            id="an unknown kind of water",
        ),
        pytest.param(
            f'{HEAD}{STEP}kind = "tap"\n',
            "step 1, kind: belongs to water only. Leave it out.",
            id="a kind of salt",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nadd = "water"\namount = "5 mL"\nassay = "98 %"\n',
            "step 1, assay: water has no assay. Leave it out.",
            id="an assay of water",
        ),
        pytest.param(
            f'{HEAD}{STEP}assay = "98"\n',
            "step 1, assay: '98' has no unit. Write an assay as 98 %.",
            id="an assay without its sign",
        ),
        pytest.param(
            f'{HEAD}{STEP}at = "300 degC"\n',
            "step 1, at: '300 degC' is no temperature for mixing. "
            "Write one from -20 to 100 degC.",
            id="a step at 300 degC",
        ),
        pytest.param(
            f'{HEAD}{STEP}at = "100.1 degC"\n',
            "step 1, at: '100.1 degC' is no temperature for mixing. "
            "Write one from -20 to 100 degC.",
            id="just above boiling",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\ncool_to = "-20.1 degC"\n',
            "step 2, cool_to: '-20.1 degC' is no temperature for mixing. "
            "Write one from -20 to 100 degC.",
            id="just below the coldest",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\nmake_up_to = "99 mL"\n',
            "step 2, make_up_to: '99 mL' is not what the recipe makes, '100 mL'. "
            "Write the same in both places.",
            id="make_up_to is not makes",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\nmake_up_to = "100 g"\n',
            "step 2, make_up_to: '100 g' is not what the recipe makes, '100 mL'. "
            "Write the same in both places.",
            id="make_up_to is a mass",
        ),
        pytest.param(
            f'{HEAD}[[step]]\nmake_up_to = "100 mL"\n{STEP}',
            "step 2, add: comes after the final volume was made up in step 1. "
            "Write it above make_up_to.",
            id="an addition after make_up_to",
        ),
        pytest.param(
            f"{HEAD}{STEP}{MADE_UP}{MADE_UP}",
            "step 3, make_up_to: is a second one, after step 2. "
            "Write it once, as the last step that adds anything.",
            id="two make_up_to",
        ),
        pytest.param(
            f'{HEAD}{JUG}[[step]]\npour = "jgu"\n[[step]]\npour = "jug"\n',
            "step 2, pour: there is nothing in 'jgu' to pour. Did you mean jug?",
            id="a vessel that is not there",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\npour = "jug"\n',
            "step 2, pour: there is nothing in 'jug' to pour. "
            'Fill it first: in = "jug".',
            id="a vessel that was never filled",
        ),
        pytest.param(
            f"{HEAD}{JUG}{POUR}{POUR}",
            "step 3, pour: there is nothing in 'jug' to pour. "
            'Fill it first: in = "jug".',
            id="a vessel poured twice",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\npour = "main"\n',
            "step 2, pour: the main vessel cannot be poured into itself. "
            "Write the other vessel's name.",
            id="the main vessel poured",
        ),
        pytest.param(
            f"{HEAD}{JUG}",
            "step 1, in: what is in 'jug' is never poured into the main vessel. "
            'Write a later step with pour = "jug".',
            id="a vessel that stays full",
        ),
        pytest.param(
            f'{HEAD}{STEP}in = "main vessel"\n',
            "step 1, in: 'main vessel' is the main vessel. "
            "Leave it out, or write the other vessel's name.",
            id="the main vessel by name",
        ),
        pytest.param(
            f'{HEAD}{STEP}[[step]]\nin = "jug"\nmake_up_to = "100 mL"\n',
            "step 2, in: the final volume is made up in the main vessel, not in 'jug'. "
            "Leave it out.",
            id="make_up_to in another vessel",
        ),
    ],
)
def test_a_fault_is_told_with_its_place_and_what_to_write(
    told: Callable[[str], list[str]], text: str, line: str
) -> None:
    assert told(text) == [f"stock.toml, {line}"]


def test_an_unclear_chemical_is_told_with_its_forms_and_the_cost(
    told: Callable[[str], list[str]],
) -> None:
    (line,) = told(f'{HEAD}[[step]]\nadd = "washing soda"\namount = "5 g"\n')
    assert line.startswith("stock.toml, step 1, add: 'washing soda' fits several")
    # 286.14 / 105.99 g/mol: the decahydrate holds 2.7 times less
    assert "2.7 times too strong" in line
    assert "sodium-carbonate-decahydrate" in line
