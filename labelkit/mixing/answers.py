"""Plans and batches as the JSON that commands answer with and records keep."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from labelkit.chemistry.amounts import Dimension
from labelkit.chemistry.reactions import Run
from labelkit.hazards.mixture import Classification
from labelkit.mixing.batch import Batch
from labelkit.mixing.bench import Settings
from labelkit.mixing.check import Check
from labelkit.mixing.dates import written
from labelkit.mixing.doses import Dose
from labelkit.mixing.job import Job
from labelkit.mixing.plan import Plan
from labelkit.mixing.shown import shown_dose
from labelkit.mixing.solution import Solution, Strength

__all__ = ["batch_json", "hazard_json", "number", "plan_json"]

Json = dict[str, Any]
FIGURES = 12


def number(value: Decimal | float | None) -> float | int | None:
    """A figure as JSON carries it: 12 significant digits."""
    if value is None:
        return None
    told = float(f"{value:.{FIGURES}g}")
    return int(told) if told.is_integer() else told


def plan_json(plan: Plan, settings: Settings) -> Json:
    """A plan as JSON."""
    solution, job = plan.solution, plan.job
    return {
        "recipe": plan.recipe.name,
        "title": plan.recipe.title,
        "make": _make(job),
        "weigh": _weigh(plan, settings),
        "measure": _measure(job.doses, settings),
        "contents": [
            {
                "chemical": content.chemical,
                "g_per_L": number(content.g_per_L),
                "mol_per_L": number(content.mol_per_L),
                "percent_ww": number(content.percent_ww),
            }
            for content in solution.contents
        ],
        "strength": _strength(solution.strength, plan.relative_u),
        "headline": {"kind": plan.headline.kind, "text": plan.headline.text},
        "reaction": [_reaction(run, solution) for run in solution.runs],
        "ph": _ph(plan),
        "warming": _warming(plan),
        "density": _density(solution),
        "checks": [_check(check) for check in plan.checks],
        "hazard": hazard_json(plan.hazard),
        "discard_after": written(plan.discard_after),
        "reasons": dict(plan.reasons),
    }


def batch_json(batch: Batch, settings: Settings) -> Json:
    """A batch as JSON: its plan worked out from the weights as read, who and when."""
    return plan_json(batch.plan, settings) | {
        "batch": batch.number,
        "mixed_on": written(batch.mixed_on),
        "made_by": batch.made_by,
        "bottles": [
            {"bottle": n, "mL": number(volume)}
            for n, volume in enumerate(batch.bottles_mL, start=1)
        ],
        "planned": [_reading(dose) for dose in batch.planned],
        "weighed": [
            _reading(dose) | {"read": dose.read} for dose in batch.plan.job.doses
        ],
        "acknowledged": list(batch.acknowledged),
        "use": batch.use,
    }


def hazard_json(hazard: Classification) -> Json:
    """A classification as JSON, with its reasoning."""
    return {
        "regime": hazard.regime,
        "signal": hazard.signal,
        "pictograms": list(hazard.pictograms),
        "classes": list(hazard.classes),
        "h": list(hazard.h),
        "label_h": list(hazard.label_h),
        "euh": list(hazard.euh),
        "p": list(hazard.p),
        "ate_mix": _numbers(hazard.ate_mix),
        "names": list(hazard.names),
        "euh208_names": list(hazard.euh208_names),
        "unknown": _numbers(hazard.unknown),
        "not_determined": list(hazard.not_determined),
        "no_data": list(hazard.no_data),
        "no_entry": list(hazard.no_entry),
        "as_added": hazard_json(hazard.as_added) if hazard.as_added else None,
        "because": [
            {"class": reason.hazard_class, "rule": reason.rule, "text": reason.text}
            for reason in hazard.because
        ],
        "notices": list(hazard.notices),
        "assumed_corrosive": hazard.assumed_corrosive,
    }


def _make(job: Job) -> Json:
    if job.make.dimension is Dimension.MASS:
        return {"g": number(job.make.number)}
    return {"mL": number(job.volume_mL)}


def _weigh(plan: Plan, settings: Settings) -> list[Json]:
    return [
        {
            "step": dose.step,
            "chemical": dose.chemical,
            "g": number(dose.mass_g),
            "show": shown_dose(dose, settings),
            "relative_u": number(weighing.relative_u),
            "fine_enough": weighing.fine_enough,
        }
        for dose, weighing in zip(plan.job.doses, plan.weighings, strict=True)
        if dose.mass_g is not None
    ]


def _measure(doses: Iterable[Dose], settings: Settings) -> list[Json]:
    return [
        {
            "step": dose.step,
            "chemical": dose.chemical,
            "mL": number(dose.volume_mL),
            "show": shown_dose(dose, settings),
            "at_C": number(dose.at_C),
            "kind": dose.kind or None,
            "batch": dose.batch or None,
        }
        for dose in doses
        if dose.volume_mL is not None
    ]


def _reading(dose: Dose) -> Json:
    return {
        "step": dose.step,
        "chemical": dose.chemical,
        "g": number(dose.mass_g),
        "mL": number(dose.volume_mL),
    }


def _strength(strength: Strength | None, relative_u: float | None) -> Json | None:
    if strength is None:
        return None
    return {
        "of": strength.of,
        "g_per_L": number(strength.g_per_L),
        "mol_per_L": number(strength.mol_per_L),
        "mL_per_g": number(strength.mL_per_g),
        "percent_ww": number(strength.percent_ww),
        "relative_u": number(relative_u),
    }


def _reaction(run: Run, solution: Solution) -> Json:
    leftover = []
    for species, _ in run.equation.reactants:
        line = solution.ledger.lines[species.chemical]
        left_g = line.present_g
        if left_g > 0:
            leftover.append(
                {
                    "chemical": species.chemical,
                    "g": number(left_g),
                    "percent": number(left_g / (line.added_g + line.formed_g) * 100),
                }
            )
    gas = run.gas
    return {
        "equation": str(run.equation),
        "coefficients": run.equation.coefficients,
        "limiting": run.limiting,
        "leftover": leftover,
        "gas": []
        if gas is None
        else [
            {"formula": gas.formula, "g": number(gas.mass_g), "L": number(gas.volume_L)}
        ],
    }


def _ph(plan: Plan) -> Json | None:
    if plan.ph is None:
        return None
    return {
        "value": number(plan.ph.value),
        "low": number(plan.ph.low),
        "high": number(plan.ph.high),
        "from": plan.ph.source,
    }


def _warming(plan: Plan) -> Json | None:
    if plan.warming is None:
        return None
    return {
        "rise_K": number(plan.warming.rise_K),
        "peak_C": number(plan.warming.peak_C),
    }


def _density(solution: Solution) -> Json | None:
    if solution.density is None:
        return None
    return {
        "g_per_mL": number(solution.density.g_per_mL),
        "from": solution.density.source,
    }


def _check(check: Check) -> Json:
    return {
        "code": check.code,
        "level": check.level.value,
        "step": check.step,
        "text": check.text,
    }


def _numbers(values: Mapping[str, Decimal]) -> Json:
    return {name: number(value) for name, value in values.items()}
