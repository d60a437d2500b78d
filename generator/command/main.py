"""The program `hearthbook`: its commands, and what they all have in common.

It must not know what a command does.
"""

import gc
from importlib import import_module
from typing import Any

import click

from generator import __version__
from generator.command.exits import guarded
from generator.command.terminal import never_fail_to_print
from generator.kept.staying import all_to_stay

_COMMANDS = {
    "check": "check",
    "build": "build",
    "serve": "build",
    "export": "export",
    "readings": "readings",
    "prove": "prove",
    "override": "override",
    "stock": "stock_lists",
    "explain": "explain",
    "expand": "written",
    "address": "tenants",
    "label": "tenants",
    "wording": "tenants",
    "schema": "written",
    "fields": "written",
    "bench": "bench",
}
"""Every command, in the order in which they are first needed, with the module of this package that has it under its name."""


class _Program(click.Group):
    """A group of commands none of which ends in a traceback, listed in the order in which they are first needed."""

    def invoke(self, ctx: click.Context) -> Any:
        never_fail_to_print()
        with guarded():
            return super().invoke(ctx)

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's own name
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002  # click's own name
        # Only what is asked for is loaded: all of them together take longer than many a job.
        if cmd_name not in _COMMANDS:
            return None
        with all_to_stay():
            module = import_module(f"generator.command.{_COMMANDS[cmd_name]}")
            gc.freeze()  # nor are they to be looked through later
        command: click.Command = getattr(module, cmd_name)
        return command


@click.group(
    cls=_Program,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="hearthbook")
def program() -> None:
    """One record a property of its heating controls: checked, solved in every state, and written as two sites.

    Ends with 0 when all is well, 1 when something was found in a record, 2 when the job could not be done.

    \b
    Example:
      hearthbook check properties
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are


def main() -> None:
    """Run the command line; the entry point of the program."""
    program(prog_name="hearthbook")
