"""What must hold between the steps of a recipe: vessels, and the final volume."""

from collections.abc import Sequence

from labelkit.chemistry.amounts import Amount
from labelkit.chemistry.numbers import quoted
from labelkit.files.steps import MAIN_WORDS
from labelkit.files.tables import Table, nearest
from labelkit.mixing.recipe import Step

__all__ = ["check_final_volume", "check_vessels"]


def check_vessels(steps: Sequence[Step], tables: Sequence[Table]) -> None:
    """Note every pour that cannot be done, and every vessel that is never poured.

    Args:
        steps: as read.
        tables: where each was read from, in the same order.
    """
    filled: dict[str, Table] = {}
    for step, table in zip(steps, tables, strict=True):
        if step.pour is not None:
            _check_pour(step, step.pour, filled, table)
            filled.pop(step.pour, None)
        if step.vessel and ("add" in table or "pour" in table):
            filled[step.vessel] = table
    for vessel, table in filled.items():
        table.fault(
            "in",
            f"what is in {quoted(vessel)} is never poured into the main vessel",
            f'Write a later step with pour = "{vessel}".',
        )


def _check_pour(step: Step, pour: str, filled: dict[str, Table], table: Table) -> None:
    others = f"Write one of: {', '.join(filled)}." if filled else ""
    if pour.casefold() in MAIN_WORDS:
        problem = "the main vessel cannot be poured into itself"
        table.fault("pour", problem, others or "Write the other vessel's name.")
    elif pour == step.vessel:
        problem = f"{quoted(pour)} cannot be poured into itself"
        table.fault("pour", problem, "Leave out in.")
    elif pour not in filled:
        problem = f"there is nothing in {quoted(pour)} to pour"
        hint = nearest(pour, filled) or others
        table.fault("pour", problem, hint or f'Fill it first: in = "{pour}".')


def check_final_volume(
    steps: Sequence[Step], tables: Sequence[Table], makes: Amount | None
) -> None:
    """Note a final volume that is not what the recipe makes, and steps that exceed it.

    Args:
        steps: as read.
        tables: where each was read from, in the same order.
        makes: what the recipe makes; None where that could not be read.
    """
    made_up: Step | None = None
    for step, table in zip(steps, tables, strict=True):
        if made_up is not None:
            _check_nothing_follows(made_up, table)
        elif step.make_up_to is not None:
            made_up = step
            _check_made_up(step, step.make_up_to, table, makes)


def _check_nothing_follows(made_up: Step, table: Table) -> None:
    if "make_up_to" in table:
        table.fault(
            "make_up_to",
            f"is a second one, after step {made_up.number}",
            "Write it once, as the last step that adds anything.",
        )
    elif "add" in table or "pour" in table:
        table.fault(
            "add" if "add" in table else "pour",
            f"comes after the final volume was made up in step {made_up.number}",
            "Write it above make_up_to.",
        )


def _check_made_up(
    step: Step, volume: Amount, table: Table, makes: Amount | None
) -> None:
    if step.vessel:
        table.fault(
            "in",
            f"the final volume is made up in the main vessel, not in "
            f"{quoted(step.vessel)}",
            "Leave it out.",
        )
    if makes is not None and volume != makes:
        table.fault(
            "make_up_to",
            f"{quoted(volume.written)} is not what the recipe makes, "
            f"{quoted(makes.written)}",
            "Write the same in both places.",
        )
