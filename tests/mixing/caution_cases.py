"""For each caution a small made-up recipe that it speaks on, and another."""

from msgspec import Struct

from labelkit.chemistry.substances import State, Substance
from labelkit.files.chemicals import read_catalogue
from labelkit.hazards.data import HazardData
from labelkit.hazards.mixture import Classification
from labelkit.mixing.catalogue import Entry
from labelkit.mixing.handling import Held

CATALOGUE = read_catalogue()


def own(name: str, formula: str | None = None, *tags: str) -> Entry:
    """A chemical of one's own, known to carry no class."""
    substance = Substance(
        name, (name,), name, State.SOLUTION, formula=formula, tags=frozenset(tags)
    )
    return Entry(substance, HazardData(name, name, classes=()))


OWN = {
    "ammonia": own("ammonia", "NH3", "ammonia", "base"),
    "selenium-salt": own("selenium-salt", "Na2SeO3"),
    "tap-dirt": own("tap-dirt"),
}


class Case(Struct, frozen=True):
    """What makes a caution speak, and what keeps it silent."""

    says: Held
    silent: Held


def held(
    weighed: str = "",
    bottle: str = "",
    *,
    told: str = "",
    never_with: str = "",
    classes: tuple[str, ...] = (),
    p: tuple[str, ...] = (),
) -> Held:
    """What was weighed and what is in the bottle, by ids with spaces between."""

    def entries(names: str) -> tuple[Entry, ...]:
        return tuple(OWN.get(name) or CATALOGUE[name] for name in names.split())

    verdict = Classification("eu-clp", classes=classes, p=p)
    return Held(entries(weighed), entries(bottle), verdict, told, never_with)


# What it is silent on is mostly the chemical that is nearest to it.
CASES = {
    "silver-ammonia-fresh": Case(
        held("silver-nitrate ammonia"), held("silver-nitrate sodium-chloride")
    ),
    "lye-into-cold-water": Case(
        held("sodium-hydroxide"),
        held("sodium-hydroxide", told="Lye goes into cold water, stirring."),
    ),
    "acid-into-water": Case(held("sulfuric-acid-37pct"), held("citric-acid-anhydrous")),
    "sulfite-before-acid": Case(
        held("sodium-sulfite-anhydrous acetic-acid-28pct"),
        held("sodium-sulfite-anhydrous boric-acid"),
    ),
    "oxidiser-by-itself": Case(
        held("potassium-permanganate"), held("potassium-ferricyanide")
    ),
    "flammable": Case(held("ethanol"), held("ethanol", p=("P210", "P233"))),
    "no-aluminium": Case(
        held("sodium-hydroxide"),
        held(
            "sodium-hydroxide",
            never_with="NEVER WITH aluminium, zinc or tin: heat and gas that burns.",
        ),
    ),
    "carbonate-foams": Case(
        held("sodium-bicarbonate citric-acid-anhydrous"),
        held("sodium-bicarbonate sodium-hydroxide"),
    ),
    "sulfide-under-a-fan": Case(
        held("", "sodium-sulfide-nonahydrate"), held("", "sodium-sulfite-anhydrous")
    ),
    "bisulfite-asthma": Case(
        held("potassium-metabisulfite"), held("sodium-sulfite-anhydrous")
    ),
    "ammonia-comes-off": Case(
        held("ammonium-chloride sodium-carbonate-anhydrous"),
        held("ammonium-chloride sodium-chloride"),
    ),
    "ten-air-changes": Case(
        held("", "sodium-thiosulfate-anhydrous"), held("", "gum-arabic")
    ),
    "wear-corrosive": Case(
        held("silver-nitrate"), held("silver-nitrate", p=("P260", "P280"))
    ),
    "particle-mask": Case(held("pyrogallol"), held("", "pyrogallol")),
    "pregnant": Case(held("metol"), held("ascorbic-acid")),
    "nitrile": Case(
        held("pyrogallol"), held("pyrogallol", told="Nitrile gloves. No dust.")
    ),
    "no-food-bottles": Case(
        held("", "tap-dirt"), held("", "tap-dirt", told="Never in drink bottles.")
    ),
    "cap-lost": Case(
        held("", "tap-dirt", classes=("Acute Tox. 4 (oral)",)),
        held("", "tap-dirt", classes=("Acute Tox. 3 (oral)",), p=("P405",)),
    ),
    "no-ground-stopper": Case(
        held("", "sodium-carbonate-anhydrous"), held("", "citric-acid-anhydrous")
    ),
    "alkali-hdpe": Case(
        held("", "sodium-hydroxide"), held("", "sodium-hydroxide", told="HDPE bottle.")
    ),
    "amber-glass": Case(held("", "metol"), held("", "metol", told="Brown glass.")),
    "plastics": Case(
        held("", "tap-dirt"), held("", "tap-dirt", told="In a PET bottle.")
    ),
    "corrosive-in-eye": Case(held("sodium-hydroxide"), held("borax-decahydrate")),
    "on-skin": Case(held("", "tap-dirt"), held("", "tap-dirt", p=("P302+P352",))),
    "eyes-lids": Case(
        held("", "tap-dirt"), held("", "tap-dirt", p=("P305+P351+P338", "P310"))
    ),
    "no-vomiting": Case(
        held("", "tap-dirt"), held("", "tap-dirt", p=("P301+P330+P331",))
    ),
    "gas-breathed-in": Case(
        held("", "sodium-thiosulfate-anhydrous"),
        held("", "sodium-thiosulfate-anhydrous", p=("P304+P340",)),
    ),
    "what-the-call-asks": Case(held("", "tap-dirt"), held()),
    "no-acid-into-sulfide-or-bleach": Case(
        held("", "sodium-hypochlorite-household"), held("", "sodium-hydroxide")
    ),
    "no-acid-into-fixer": Case(
        held("", "ammonium-thiosulfate-60pct"), held("", "ammonium-thiocyanate")
    ),
    "chromium-waste": Case(
        held("", "chrome-alum-dodecahydrate"), held("", "potassium-alum-dodecahydrate")
    ),
    "heavy-metal-waste": Case(held("", "selenium-salt"), held("", "tap-dirt")),
    "fixer-silver": Case(
        held("", "sodium-thiosulfate-anhydrous"),
        held("sodium-thiosulfate-anhydrous"),
    ),
    "silver-waste": Case(
        held("", "silver-nitrate"),
        held("", "silver-nitrate", told="Into the silver drum."),
    ),
    "copper-waste": Case(
        held("", "copper-sulfate-pentahydrate"), held("", "sodium-chloride")
    ),
    "oxalate-waste": Case(
        held("", "ferric-oxalate-hydrate"), held("", "ferric-ammonium-citrate-green")
    ),
    "cyanide-complex-waste": Case(
        held("", "potassium-ferricyanide"), held("", "potassium-thiocyanate")
    ),
    "waste-here": Case(
        held("", "tap-dirt"), held("", "tap-dirt", told="Local rules come first.")
    ),
    "true-cyanide-complex": Case(
        held("", "potassium-ferrocyanide-trihydrate"), held("", "ammonium-thiocyanate")
    ),
    "true-dichromate": Case(
        held("", "potassium-dichromate"), held("", "chrome-alum-dodecahydrate")
    ),
    "true-lye": Case(held("potassium-hydroxide"), held("sodium-carbonate-anhydrous")),
    "true-developing-agents": Case(held("hydroquinone"), held("phenidone")),
    "true-pyrogallol": Case(held("", "pyrogallol"), held("", "pyrocatechol")),
    "true-silver-nitrate": Case(held("silver-nitrate"), held("sodium-chloride")),
    "true-oxalates": Case(
        held("", "potassium-oxalate-monohydrate"), held("", "citric-acid-anhydrous")
    ),
    "true-thiosulfate": Case(
        held("", "sodium-thiosulfate-anhydrous"), held("", "sodium-sulfite-anhydrous")
    ),
    "true-borates": Case(held("", "boric-acid"), held("", "sodium-bicarbonate")),
}
