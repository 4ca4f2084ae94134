"""The command group: loads a command when it is called, and words every error."""

import os
import sys
from importlib import import_module
from typing import Any

import click

from labelkit import __version__
from labelkit.errors import LabelkitError

__all__ = ["COMMANDS", "OUR_FAULT", "main"]

OUR_FAULT = 70  # EX_SOFTWARE of sysexits.h

# Name and one line of help; the modules of the same names are loaded when called.
COMMANDS = {
    "demo": "Set up a bench with the samples: mixed, labelled, published.",
    "init": "Set up a new bench whose files explain themselves.",
    "convert": "Take another form of a chemical: how many grams do the same work.",
    "prepare": "Make a chemical in solution by a vetted route.",
    "dilute": "Dilute by a ratio, or from one strength to another.",
    "plan": "Work a recipe out: what to weigh, what comes out, what to beware of.",
    "mix": "Record what was really weighed, and print the bottle labels.",
    "label": "Print the labels of a batch again.",
    "card": "Print mixing cards.",
    "workshop": "Print the pack of a workshop: cover, cards, weighing-out sheets.",
    "shelf": "List what stands on the shelf.",
    "show": "Show one batch whole; a scanned address is understood.",
    "log": "Write down what happened to a bottle.",
    "hazards": "Explain a classification: which ingredient, what share, which rule.",
    "compare": "Set versions of one recipe side by side, with a verdict.",
    "chemicals": "Find chemicals by name, CAS number or formula.",
    "check": "Read recipes and other files, and report every fault.",
    "layouts": "List the label, card and sheet layouts there are.",
    "publish": "Write the record pages as static files for any web host.",
    "serve": "Show the record pages live, with forms to mix and write down.",
    "backup": "Save the shelf whole.",
    "export": "Write every batch and event as JSON Lines.",
    "import": "Merge batches and events exported from another bench.",
}


class Group(click.Group):
    """A group whose commands load when they are called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Every command, in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """The command of that name, from the module of that name."""
        if cmd_name not in COMMANDS:
            return None
        module = import_module(f"labelkit.cli.{_module_of(cmd_name)}")
        command: click.Command = module.command
        return command

    def format_commands(
        self, ctx: click.Context, formatter: click.HelpFormatter
    ) -> None:
        """List the commands without loading them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))

    def invoke(self, ctx: click.Context) -> Any:
        """Run a command; an error a person can mend becomes a line and an exit code."""
        try:
            return super().invoke(ctx)
        except LabelkitError as error:
            click.echo(str(error), err=True)
            ctx.exit(error.exit_code)


@click.group(
    cls=Group,
    context_settings={"help_option_names": ["-h", "--help"]},
    no_args_is_help=True,
)
@click.version_option(__version__, prog_name="labelkit")
def commands() -> None:
    """Works recipes out, records what was weighed, labels the bottle."""


def main() -> None:
    """Run the command line; a fault of ours is one line, a report file and exit 70."""
    try:
        commands.main(prog_name="labelkit")
    except Exception:
        if os.environ.get("LABELKIT_DEBUG"):
            raise
        import traceback

        click.echo(
            "labelkit: this is a fault of ours, not of your files. "
            f"{_reported(traceback.format_exc())}",
            err=True,
        )
        sys.exit(OUR_FAULT)


def _module_of(name: str) -> str:
    return {"import": "merge"}.get(name, name)


def _reported(trace: str) -> str:
    """Write a report and say where it is, or how to see what went wrong."""
    from tempfile import mkstemp

    lines = [f"labelkit {__version__}, Python {sys.version}", f"$ {' '.join(sys.argv)}"]
    text = "\n".join([*lines, trace])
    try:
        file, name = mkstemp(prefix="labelkit-report-", suffix=".txt", text=True)
        with os.fdopen(file, "w", encoding="utf-8") as report:
            report.write(text)
    except OSError:
        return "Set LABELKIT_DEBUG=1 and send what it shows then."
    return f"Please send {name} to whoever looks after labelkit."
