"""A route on the terminal and as JSON: what it rests on, what dissolves, what to do."""

from collections.abc import Iterator, Sequence
from decimal import Decimal
from typing import Any

from labelkit.chemistry.display import figures, show_mass_g
from labelkit.cli.words import fact
from labelkit.mixing.answers import number
from labelkit.mixing.bench import Settings
from labelkit.mixing.catalogue import Catalogue
from labelkit.mixing.preparing import Prepared, WeightLoss
from labelkit.mixing.routes_dissolving import Stage

__all__ = ["route_json", "route_lines"]

DONE = (Decimal(90), Decimal(95), Decimal(99))


def route_json(found: Prepared) -> dict[str, Any]:
    """The route and what was checked on it, as JSON."""
    route = found.chosen.route
    return {
        "id": route.id,
        "of": found.chosen.product.id,
        "from": [form.id for form in found.chosen.reagents],
        "way": str(route.way),
        "source": route.source,
        "confidence": str(route.confidence),
        "solubility": [_stage_json(s) for s in (*found.mixing, *found.storage)],
        "reaction_rise_K": number(found.reaction_K),
        "weight_loss": _weight_json(found.weight_loss),
    }


def route_lines(
    found: Prepared, catalogue: Catalogue, settings: Settings
) -> Iterator[str]:
    """What is to be said of a route, 78 wide."""
    names = " and ".join(form.name for form in found.chosen.reagents)
    route = found.chosen.route
    yield fact("Route", f"from {names}: {route.source} [{route.confidence}].")
    for text in _storage(found, catalogue):
        yield fact("Dissolves", text)
    if found.reaction_K >= 1:
        yield fact(
            "Heat",
            f"neutralising can warm it by up to {found.reaction_K:.0f} K beyond what "
            "is counted below.",
        )
    if found.weight_loss is not None:
        yield fact("Weigh it", _weights(found.weight_loss, settings))


def _storage(found: Prepared, catalogue: Catalogue) -> Iterator[str]:
    by_chemical: dict[str, list[Stage]] = {}
    for stage in found.storage:
        by_chemical.setdefault(stage.chemical, []).append(stage)
    for chemical, stages in by_chemical.items():
        name = catalogue.substance(chemical).name
        told = ", ".join(_at(stage) for stage in stages)
        yield f"{name} {told}.{_crystals(stages)}"


def _at(stage: Stage) -> str:
    at = f"at {stage.at_C:.0f} °C"
    if stage.most_g is None:
        return f"{at} not known"
    if stage.most_g_per_L is None:
        return f"{at} without limit"
    return f"{at} up to about {figures(Decimal(str(stage.most_g_per_L)), 2)} g/L"


def _crystals(stages: Sequence[Stage]) -> str:
    cold = [stage for stage in stages if stage.fits is False]
    if not cold:
        return " Other salts in it are not reckoned."
    clear = cold[0].clear_from_C
    above = f" above {clear:.0f} °C" if clear is not None else " warmer"
    return f" It crystallises in the cold: keep it{above}, or warm it and shake."


def _weights(loss: WeightLoss, settings: Settings) -> str:
    def grams(mass_g: Decimal) -> str:
        return show_mass_g(mass_g, settings.balance_g)

    told = ", ".join(f"{grams(loss.weighs_g(d))} at {d} %" for d in DONE)
    return (
        f"{grams(loss.before_g)} must come down to {grams(loss.after_g)} "
        f"({figures(loss.loss_percent, 3)} % less). On the way: {told}."
    )


def _stage_json(stage: Stage) -> dict[str, Any]:
    return {
        "step": stage.step,
        "chemical": stage.chemical,
        "at_C": number(stage.at_C),
        "g": number(stage.mass_g),
        "most_g": number(stage.most_g),
        "most_g_per_L": number(stage.most_g_per_L),
        "fits": stage.fits,
        "waits": stage.waits,
        "clear_from_C": number(stage.clear_from_C),
        "source": stage.source or None,
    }


def _weight_json(loss: WeightLoss | None) -> dict[str, Any] | None:
    if loss is None:
        return None
    return {
        "before_g": number(loss.before_g),
        "after_g": number(loss.after_g),
        "loss_percent": number(loss.loss_percent),
        "done": [
            {"percent": number(done), "weighs_g": number(loss.weighs_g(done))}
            for done in DONE
        ],
    }
