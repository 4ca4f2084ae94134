"""Worked examples of group B: how much of what, and which runs out first."""

from collections.abc import Iterable
from decimal import Decimal

from labelkit.chemistry.formulas import molar_mass
from labelkit.chemistry.reactions import Run, Species, balance, run
from tests.chemistry.published import Case
from tests.mixing.conftest import Room
from tests.mixing.writing import METABORATE, Figures, Worked, formula_of, text


def reacting(added: dict[str, float], *made: str, plenty: Iterable[str] = ()) -> Run:
    """The reaction of these grams, beside more than enough of what is in plenty."""
    formulas = [*added, *plenty]
    equation = balance([Species(f, f) for f in formulas], [Species(f, f) for f in made])
    amounts = {f: Decimal(str(mass)) for f, mass in added.items()}
    return run(equation, amounts | dict.fromkeys(plenty, Decimal(1_000_000)))


def moles(formula: str, mass_g: Decimal | float) -> float:
    return float(mass_g) / float(molar_mass(formula))


def iodine_for_aluminium(one: Case, room: Room) -> Figures:
    aluminium_g = one.given("amount Al") * float(molar_mass("Al"))
    done = reacting({"Al": aluminium_g}, "AlI3", plenty=["I2"])
    return {"amount I2": moles("I2", done.consumed_g["I2"])}


def gallium_oxide(one: Case, room: Room) -> Figures:
    done = reacting({"Ga": one.given("mass Ga")}, "Ga2O3", plenty=["O2"])
    return {"mass Ga2O3": float(done.formed_g["Ga2O3"])}


def oxygen_for_octane(one: Case, room: Room) -> Figures:
    done = reacting({"C8H18": one.given("mass C8H18")}, "CO2", plenty=["O2"])
    return {"mass O2": float(done.consumed_g["O2"])}


def silicon_nitride(one: Case, room: Room) -> Figures:
    nitrogen_g = one.given("mass N2")
    done = reacting({"Si": one.given("mass Si"), "N2": nitrogen_g}, "Si3N4")
    return {
        "limiting reagent": done.limiting,
        "amount Si3N4": moles("Si3N4", done.formed_g["Si3N4"]),
        "excess N2 left": nitrogen_g - float(done.consumed_g["N2"]),
    }


def sodium_chloride(one: Case, room: Room) -> Figures:
    added = {"Na": one.given("mass Na"), "Cl2": one.given("mass Cl2")}
    return {"limiting reagent": reacting(added, "NaCl").limiting}


def copper_by_zinc(one: Case, room: Room) -> Figures:
    added = {"CuSO4": one.given("mass CuSO4")}
    done = reacting(added, "Cu", "ZnSO4", plenty=["Zn"])
    return {"theoretical yield": float(done.formed_g["Cu"])}


def citric_and_bicarbonate(one: Case, room: Room) -> Figures:
    acid_g = one.given("mass C6H8O7")
    added = {"NaHCO3": one.given("mass NaHCO3"), "C6H8O7": acid_g}
    done = reacting(added, "Na3C6H5O7")
    assert done.gas is not None
    return {
        "limiting reagent": done.limiting,
        "mass CO2": float(done.gas.mass_g),
        "excess C6H8O7 left": acid_g - float(done.consumed_g["C6H8O7"]),
    }


def small_metaborate(one: Case, room: Room) -> Figures:
    plan = room.answer(
        text(
            "400 mL",
            [
                ("borax-decahydrate", f"{one.given('mass borax decahydrate')} g"),
                ("sodium-hydroxide", f"{one.given('mass NaOH')} g"),
            ],
            METABORATE,
        )
    )
    (reaction,) = plan["reaction"]
    (left,) = reaction["leftover"]
    strength = plan["strength"]
    return {
        "limiting reagent": formula_of(reaction["limiting"], room),
        "excess NaOH": left["g"],
        "mass NaBO2·4H2O": strength["g_per_L"] * 0.4,
        "concentration NaBO2·4H2O": strength["g_per_L"],
        "volume carrying 1 g NaBO2·4H2O": strength["mL_per_g"],
    }


def for_100_g(made: str, *reagents: str, names: dict[str, str]) -> Worked:
    """Grams of each reagent for 100 g, from a run that uses up all of them."""

    def worked(one: Case, room: Room) -> Figures:
        first, *others = reagents
        done = reacting({first: 1}, made, plenty=others)
        each = {f: done.consumed_g[f] / done.formed_g[made] * 100 for f in reagents}
        return {name: float(each[f]) for name, f in names.items()}

    return worked


def heated_bicarbonate(one: Case, room: Room) -> Figures:
    bicarbonate_g = one.given("mass NaHCO3")
    done = reacting({"NaHCO3": bicarbonate_g}, "Na2CO3")
    assert done.gas is not None
    return {
        "mass Na2CO3": float(done.formed_g["Na2CO3"]),
        "mass lost as CO2 and H2O": float(done.gas.mass_g + done.water_g),
    }


def bound_thiosulfate(one: Case, room: Room) -> Figures:
    added = {"AgBr": one.given("mass AgBr")}
    done = reacting(added, "Na3Ag(S2O3)2", "NaBr", plenty=["Na2S2O3"])
    return {"thiosulfate bound in complex": float(done.consumed_g["Na2S2O3"])}


WORKED: dict[str, Worked] = {
    "B-st-01": iodine_for_aluminium,
    "B-st-04": gallium_oxide,
    "B-st-05": oxygen_for_octane,
    "B-lim-01": silicon_nitride,
    "B-lim-03": sodium_chloride,
    "B-lim-06": citric_and_bicarbonate,
    "B-yld-01": copper_by_zinc,
    "B-mb-01": small_metaborate,
    "B-mb-02": for_100_g(
        "NaBO2.4H2O",
        "Na2B4O7.10H2O",
        "NaOH",
        names={"mass borax decahydrate": "Na2B4O7.10H2O", "mass NaOH": "NaOH"},
    ),
    "B-mb-06": for_100_g(
        "NaBO2.4H2O",
        "H3BO3",
        "NaOH",
        names={"mass H3BO3": "H3BO3", "mass NaOH": "NaOH"},
    ),
    "B-so-01": for_100_g(
        "Na2SO3",
        "Na2S2O5",
        "NaOH",
        names={"mass Na2S2O5": "Na2S2O5", "mass NaOH": "NaOH"},
    ),
    "B-cb-01": heated_bicarbonate,
    "B-fx-01": bound_thiosulfate,
}
