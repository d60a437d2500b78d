"""The program `hearthbook`: its commands, and what they all have in common.

It must not know what a command does.
"""

from typing import Any

import click

from generator import __version__
from generator.command.bench import bench
from generator.command.build import build, serve
from generator.command.check import check
from generator.command.exits import guarded
from generator.command.explain import explain
from generator.command.export import export
from generator.command.override import override
from generator.command.prove import prove
from generator.command.readings import readings
from generator.command.stock_lists import stock
from generator.command.tenants import address, label, wording
from generator.command.terminal import never_fail_to_print
from generator.command.written import expand, fields, schema


class _Program(click.Group):
    """A group of commands none of which ends in a traceback, listed in the order in which they are first needed."""

    def invoke(self, ctx: click.Context) -> Any:
        never_fail_to_print()
        with guarded():
            return super().invoke(ctx)

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002  # click's own name
        return list(self.commands)


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


for _command in (
    check,
    build,
    serve,
    export,
    readings,
    prove,
    override,
    stock,
    explain,
    expand,
    address,
    label,
    wording,
    schema,
    fields,
    bench,
):
    program.add_command(_command)


def main() -> None:
    """Run the command line; the entry point of the program."""
    program(prog_name="hearthbook")
