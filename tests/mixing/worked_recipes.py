"""Worked examples of group Z: whole recipes, from the powders to the strength."""

from decimal import Decimal

from labelkit.chemistry.weighing import combined
from labelkit.mixing.uncertainty import contributions
from tests.chemistry.published import Case
from tests.mixing.conftest import Room
from tests.mixing.writing import (
    METABORATE,
    Figures,
    Worked,
    content,
    formula_of,
    sold_solution,
    text,
)


def metaborate(one: Case, room: Room) -> Figures:
    """Both powders at their purity, dissolved one by one, made up and left to react."""
    borax, lye = "Na2B4O7·10H2O", "NaOH"
    jars = {
        "borax-decahydrate": str(one.given(f"purity {borax}")),
        "sodium-hydroxide": str(one.given(f"purity {lye}")),
    }
    volume = one.given("final volume")
    steps = [
        ("water", f"{volume * 0.8} mL"),
        ("borax-decahydrate", as_written(one, borax, jars["borax-decahydrate"])),
        ("sodium-hydroxide", as_written(one, lye, jars["sodium-hydroxide"])),
    ]
    plan = room.with_jars(jars).answer(text(f"{volume} mL", steps, METABORATE))
    (reaction,) = plan["reaction"]
    (left,) = reaction["leftover"]
    limiting = formula_of(reaction["limiting"], room)
    other = borax if limiting == lye else lye
    strength = plan["strength"]
    return {
        "limiting reagent": limiting,
        f"excess {other} (pure)": left["g"],
        "mass NaBO2·4H2O": strength["g_per_L"] * volume / 1000,
        "concentration NaBO2·4H2O": strength["g_per_L"],
        "volume carrying 1 g NaBO2·4H2O": strength["mL_per_g"],
        "pH at 25 °C": plan["ph"]["value"],
        "adiabatic temperature rise, hydroxide dissolution only": lye_rise_K(
            one, room, jars["sodium-hydroxide"]
        ),
    }


def lye_rise_K(one: Case, room: Room, assay: str) -> float:
    """The case spreads the heat of the hydroxide over the whole final volume."""
    volume = one.given("final volume")
    lye_g = one.given("mass NaOH as weighed")
    steps = [("water", f"{volume} mL"), ("sodium-hydroxide", f"{lye_g} g")]
    recipe = text(f"{2 * volume} mL", steps)
    plan = room.with_jars({}).answer(recipe)
    warming = plan["warming"]
    assert warming is not None
    return float(warming["rise_K"]) * float(assay) / 100


def as_written(one: Case, formula: str, assay: str) -> str:
    """What a recipe for the pure chemical asks for, that has this mass weighed."""
    return f"{one.given(f'mass {formula} as weighed') * float(assay) / 100} g"


def sulfite_from_metabisulfite(one: Case, room: Room) -> Figures:
    jars = {
        "sodium-metabisulfite": str(one.given("purity Na2S2O5")),
        "sodium-hydroxide": str(one.given("purity NaOH")),
    }
    reaction = """
        [[reaction]]
        from = ["sodium-metabisulfite", "sodium-hydroxide"]
        to   = ["sodium-sulfite-anhydrous"]
    """
    steps = [
        (
            "sodium-metabisulfite",
            as_written(one, "Na2S2O5", jars["sodium-metabisulfite"]),
        ),
        ("sodium-hydroxide", as_written(one, "NaOH", jars["sodium-hydroxide"])),
    ]
    volume = one.given("final volume")
    plan = room.with_jars(jars).answer(text(f"{volume} mL", steps, reaction))
    (done,) = plan["reaction"]
    sulfite = content(plan, "sodium-sulfite-anhydrous")
    return {
        "limiting reagent": formula_of(done["limiting"], room),
        "excess Na2S2O5 (pure)": done["leftover"][0]["g"],
        "concentration Na2SO3": sulfite["g_per_L"],
    }


def made_of(
    room: Room, acid: str, base: str, made: str, jars: dict[str, str]
) -> tuple[float, float]:
    """Grams of acid and base, as weighed, for each gram that a plan of both makes."""
    room = room.with_jars(jars)
    reaction = f'[[reaction]]\nfrom = ["{acid}", "{base}"]\nto = ["{made}"]'
    steps = [(acid, "100 g"), (base, "500 g")]
    plan = room.plan(text("10 L", steps, reaction))
    (done,) = plan.solution.runs
    formed_g = done.formed_g[made]
    share = Decimal(jars.get(base, "100")) / 100
    each = done.consumed_g[acid] / formed_g, done.consumed_g[base] / formed_g / share
    return float(each[0]), float(each[1])


def ascorbate(one: Case, room: Room) -> Figures:
    wanted = one.given("wanted NaC6H7O6")
    acid, base = made_of(
        room, "ascorbic-acid", "sodium-bicarbonate", "sodium-ascorbate", {}
    )
    return {"mass C6H8O6": wanted * acid, "mass NaHCO3": wanted * base}


def oxalate(one: Case, room: Room) -> Figures:
    wanted = one.given("wanted K2C2O4·H2O")
    acid, lye = made_of(
        room,
        "oxalic-acid-dihydrate",
        "potassium-hydroxide",
        "potassium-oxalate-monohydrate",
        {"potassium-hydroxide": str(one.given("KOH purity"))},
    )
    return {"mass H2C2O4·2H2O": wanted * acid, "mass KOH to weigh": wanted * lye}


def clearing_bath(one: Case, room: Room) -> Figures:
    own = sold_solution("HCl", one.given("acid"), one.given("density"))
    makes = f"{one.given('final volume')} mL"
    of_one_mL = content(room.answer(text(makes, [("sold", "1 mL")], own)), "sold")
    mL = one.given("wanted") * 10 / of_one_mL["g_per_L"]
    return {"volume of acid": mL, "concentration": of_one_mL["mol_per_L"] * mL}


def ammonia_buffer(one: Case, room: Room) -> Figures:
    own = sold_solution("NH3", one.given("ammonia solution"), one.given("density"))
    own += '\nparent = "ammonia"'
    steps = [
        ("sold", f"{one.given('volume ammonia solution')} mL"),
        ("ammonium-chloride", f"{one.given('mass NH4Cl')} g"),
    ]
    plan = room.answer(text(f"{one.given('final volume')} mL", steps, own))
    return {
        "ammonia": content(plan, "sold")["mol_per_L"],
        "ammonium chloride": content(plan, "ammonium-chloride")["mol_per_L"],
    }


def metaborate_uncertainty(one: Case, room: Room) -> Figures:
    """The case takes the borax, which limits, for exactly pure."""
    lye = str(one.given("purity NaOH"))
    room = room.with_jars({"sodium-hydroxide": lye})
    lye_g = one.given("mass NaOH as weighed") * float(lye) / 100
    steps = [
        ("borax-decahydrate", f"{one.given('mass borax decahydrate')} g"),
        ("sodium-hydroxide", f"{lye_g} g"),
    ]
    plan = room.plan(text(f"{one.given('final volume')} mL", steps, METABORATE))
    catalogue = room.books.catalogue
    named = contributions(plan.job, plan.solution, catalogue, room.settings)
    relative_u = combined(
        c for name, c in named.items() if name != "step 1, borax-decahydrate, assay"
    )
    assert plan.solution.strength is not None
    g_per_L = float(plan.solution.strength.g_per_L or 0)
    return {
        "concentration NaBO2·4H2O (limiting reagent fixed at nominal values)": g_per_L,
        "standard uncertainty": g_per_L * relative_u,
    }


WORKED: dict[str, Worked] = {
    "Z-D01": metaborate,
    "Z-D02": metaborate,
    "Z-D03": metaborate,
    "Z-D04": sulfite_from_metabisulfite,
    "Z-D05": ascorbate,
    "Z-D06": clearing_bath,
    "Z-D07": oxalate,
    "Z-D08": ammonia_buffer,
    "Z-D09": metaborate_uncertainty,
}
