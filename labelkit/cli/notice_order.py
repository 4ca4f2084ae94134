"""What ``labelkit label --unknown`` and ``--waste`` are told by options."""

from collections.abc import Callable
from datetime import datetime
from typing import Any

import click
from msgspec import Struct

from labelkit.cli.params import WHEN
from labelkit.errors import BadInput

__all__ = ["NoticeOrder", "notice_options"]

_NOT_WITH = {
    "--unknown": ("--never",),
    "--waste": ("--where", "--looks", "--says", "--claim-by"),
}


def notice_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give ``label`` the options that `NoticeOrder` holds."""
    options = (
        click.option(
            "--unknown", is_flag=True, help="UNKNOWN, for a bottle that was found."
        ),
        click.option("--waste", metavar="TEXT", help="WASTE, for what is collected."),
        click.option("--where", default="", help="UNKNOWN: where it was found."),
        click.option("--looks", default="", help="UNKNOWN: what it looks like."),
        click.option("--says", default="", help="UNKNOWN: what old writing says."),
        click.option("--claim-by", type=WHEN, help="UNKNOWN: until when to claim it."),
        click.option("--never", default="", help="WASTE: what must not come in."),
        click.option("--by", default="", help="Who found it, or started the waste."),
        click.option("--on", type=WHEN, help="When; UNKNOWN: today if left out."),
    )
    for option in reversed(options):
        command = option(command)
    return command


class NoticeOrder(Struct, frozen=True):
    """What was said of a notice, by options."""

    unknown: bool
    waste: str | None
    where: str
    looks: str
    says: str
    claim_by: datetime | None
    never: str
    by: str
    on: datetime | None

    @property
    def is_given(self) -> bool:
        """Whether a notice is wanted.

        Raises:
            BadInput: an option of one is given without it.
        """
        given = self.unknown or self.waste is not None
        for option, value in self._details().items():
            if value and not given:
                raise BadInput(
                    "says something of an UNKNOWN or WASTE label",
                    place=option,
                    remedy="Add --unknown or --waste TEXT, or leave it out.",
                )
        return given

    def refuse_what_is_left_out(self, batches: tuple[str, ...], **other: Any) -> None:
        """Refuse what a notice does not take.

        Args:
            batches: as typed; a notice takes none.
            **other: values of options, by name, that a notice does not take.

        Raises:
            BadInput: something of it is given.
        """
        if self.unknown and self.waste is not None:
            problem = "--unknown and --waste are two labels"
            raise BadInput(problem, remedy="Print one after the other.")
        chief = "--unknown" if self.unknown else "--waste"
        details = self._details()
        wrong = [option for option in _NOT_WITH[chief] if details[option]]
        wrong += [
            f"--{name.replace('_', '-')}" for name, value in other.items() if value
        ]
        wrong += ["BATCH"] if batches else []
        if wrong:
            raise BadInput(
                f"{chief} takes no {wrong[0]}", remedy=f"Leave {wrong[0]} out."
            )

    def _details(self) -> dict[str, object]:
        return {
            "--where": self.where,
            "--looks": self.looks,
            "--says": self.says,
            "--claim-by": self.claim_by,
            "--never": self.never,
            "--by": self.by,
            "--on": self.on,
        }
