"""Worked examples of group C: strengths, and what a dilution leaves of them."""

from labelkit.chemistry.formulas import molar_mass
from tests.chemistry.published import Case
from tests.mixing.conftest import Room
from tests.mixing.writing import Figures, Worked, content, salt, sold_solution, text


def molarity(formula: str, unit: str = "g", *, volume: str = "mL") -> Worked:
    """mol/L of a salt that is weighed and made up."""

    def worked(one: Case, room: Room) -> Figures:
        (mass,) = (i["value"] for i in one.data["inputs"] if "mass" in i["name"][:5])
        recipe = text(
            f"{one.given('volume')} {volume}",
            [("salt", f"{mass} {unit}")],
            salt("salt", formula),
        )
        plan = room.answer(recipe)
        return {"concentration": content(plan, "salt")["mol_per_L"]}

    return worked


def sucrose(one: Case, room: Room) -> Figures:
    mass_g = one.given("amount") * float(molar_mass("C12H22O11"))
    recipe = text(
        f"{one.given('volume')} mL",
        [("salt", f"{mass_g:.6f} g")],
        salt("salt", "C12H22O11"),
    )
    return {"concentration": content(room.answer(recipe), "salt")["mol_per_L"]}


def cobalt_chloride(one: Case, room: Room) -> Figures:
    """The book weighs with 128.9 g/mol, so its moles are counted with that too."""
    recipe = text(
        f"{one.given('volume')} mL",
        [("salt", f"{one.given('mass CoCl2')} g")],
        salt("salt", "CoCl2"),
    )
    printed = one.given("molar mass as published")
    return {"concentration": content(room.answer(recipe), "salt")["g_per_L"] / printed}


def grams_for(formula: str) -> Worked:
    """The mass whose solution has the strength wanted, in proportion to 1 g of it."""

    def worked(one: Case, room: Room) -> Figures:
        volume = f"{one.given('volume')} mL"
        plan = room.answer(text(volume, [("salt", "1 g")], salt("salt", formula)))
        of_one_gram = content(plan, "salt")["mol_per_L"]
        return {"mass": one.given("concentration") / of_one_gram}

    return worked


def bromide_by_the_equivalence(one: Case, room: Room) -> Figures:
    grams = one.given("concentration") * float(molar_mass("KBr"))
    strength = '[strength]\nof = "potassium-bromide"'
    recipe = text("1 L", [("potassium-bromide", f"{grams:.4f} g")], strength)
    mL_per_g = room.answer(recipe)["strength"]["mL_per_g"]
    return {"volume": mL_per_g * one.given("mass wanted") / 1000}


def diluted(stock_mol_per_L: float, formula: str, mL: str, makes: str) -> Worked:
    """mol/L of a stock solution that is poured and made up."""

    def worked(one: Case, room: Room) -> Figures:
        return {
            "final concentration": poured(room, stock_mol_per_L, formula, mL, makes)
        }

    return worked


def poured(
    room: Room, stock_mol_per_L: float, formula: str, mL: str, makes: str
) -> float:
    own = salt("salt", formula)
    grams = stock_mol_per_L * float(molar_mass(formula))
    stock = room.stock(text("1 L", [("salt", f"{grams:.6f} g")], own), "strong")
    plan = room.plan(
        text(makes, [("recipe:strong", mL)], own), stocks={"strong": stock}
    )
    (line,) = plan.solution.contents
    return float(line.mol_per_L or 0)


def hydrobromic_acid(one: Case, room: Room) -> Figures:
    """The volume follows from what a litre made of the same stock volume holds."""
    strong = one.given("stock concentration")
    in_a_litre = poured(room, strong, "HBr", "11 mL", "1 L")
    assert one.given("stock volume") == 0.011
    return {"final volume": in_a_litre / one.given("final concentration")}


def stock_volume(formula: str) -> Worked:
    """The volume follows from what 1 mL of the stock brings into the final volume."""

    def worked(one: Case, room: Room) -> Figures:
        makes = f"{one.given('final volume')} L"
        strong = one.given("stock concentration")
        of_one_mL = poured(room, strong, formula, "1 mL", makes)
        return {"stock volume": one.given("final concentration") / of_one_mL / 1000}

    return worked


def glucose(one: Case, room: Room) -> Figures:
    recipe = text(
        f"{one.given('mass solution')} g",
        [("salt", f"{one.given('mass solute')} mg")],
        salt("salt", "C6H12O6"),
    )
    return {"mass percent": content(room.answer(recipe), "salt")["percent_ww"]}


def of_sold(one: Case, room: Room, formula: str) -> dict[str, float]:
    """g/L and mol/L of a solution as it is sold."""
    own = sold_solution(formula, one.given("mass percent"), one.given("density"))
    steps = '[[step]]\nadd = "sold"\namount = "1 L"'
    head = f'title = "As sold"\nmakes = "1 L"\n[strength]\nof = "pure"\n{own}\n'
    pure = salt("pure", formula, parent="sold")
    plan = room.answer(f"{head}{pure}\n{steps}")
    return content(plan, "sold") | {"mL_per_g": plan["strength"]["mL_per_g"]}


def hydrochloric_half_litre(one: Case, room: Room) -> Figures:
    held = of_sold(one, room, "HCl")
    return {
        "mass HCl": held["g_per_L"] * one.given("volume"),
        "concentration": held["mol_per_L"],
    }


def isopropanol(one: Case, room: Room) -> Figures:
    own = salt(
        "spirit",
        "C3H8O",
        state="liquid",
        density=f"{one.given('density of pure solute')} g/mL",
    )
    volume = one.given("volume")
    mL = volume * one.given("volume percent") / 100
    plan = room.plan(text(f"{volume} mL", [("spirit", f"{mL} mL")], own))
    return {"mass solute": float(plan.solution.contents[0].mass_g)}


def sold_molarity(formula: str) -> Worked:
    def worked(one: Case, room: Room) -> Figures:
        held = of_sold(one, room, formula)
        wanted = {e["name"] for e in one.data["expected"]}
        mL = held["mL_per_g"] * float(molar_mass(formula))
        told: Figures = {
            "concentration": held["mol_per_L"],
            "volume for 1 L of 1 mol/L": mL,
            "grams of solute per 100 mL": held["g_per_L"] / 10,
        }
        return {name: value for name, value in told.items() if name in wanted}

    return worked


def nitric_acid_by_weight(one: Case, room: Room) -> Figures:
    acid_g = one.given("molality") * float(molar_mass("HNO3"))
    recipe = "\n".join(
        [
            f'title = "By mass"\nmakes = "{acid_g + 1000:.4f} g"',
            f'[measured]\ndensity = "{one.given("density")} g/mL"',
            salt("acid", "HNO3", state="liquid"),
            f'[[step]]\nadd = "acid"\namount = "{acid_g:.4f} g"',
            '[[step]]\nadd = "water"\namount = "1 kg"',
        ]
    )
    return {"concentration": content(room.answer(recipe), "acid")["mol_per_L"]}


def saline(one: Case, room: Room) -> Figures:
    grams = one.given("mass per volume")
    recipe = text("100 mL", [("sodium-chloride", f"{grams} g")])
    plan = room.answer(recipe)
    return {"concentration": content(plan, "sodium-chloride")["mol_per_L"]}


WORKED: dict[str, Worked] = {
    "C-01": sucrose,
    "C-03": cobalt_chloride,
    "C-05": grams_for("CaCl2"),
    "C-07": bromide_by_the_equivalence,
    "C-08": diluted(5.0, "CuN2O6", "0.85 L", "1.8 L"),
    "C-10": hydrobromic_acid,
    "C-12": stock_volume("KOH"),
    "C-15": stock_volume("C12H22O11"),
    "C-16": glucose,
    "C-18": hydrochloric_half_litre,
    "C-20": isopropanol,
    "C-23": sold_molarity("H2SO4"),
    "C-25": nitric_acid_by_weight,
    "C-28": molarity("CuSO4.5H2O", "kg", volume="L"),
    "C-30": grams_for("Na2S2O3.5H2O"),
    "C-33": saline,
    "C-ref-1": sold_molarity("C2H4O2"),
    "C-ref-3": sold_molarity("HNO3"),
    "C-ref-5": sold_molarity("H2SO4"),
    "C-ref-7": sold_molarity("KOH"),
    "C-ref-9": sold_molarity("HCl"),
    "C-ref-10": sold_molarity("NaOH"),
    "C-ref-12": sold_molarity("C2H4O2"),
}
