"""The command `prove`: what is so in every state of a property's controls, and what is not.

It must not know how anything is proved.
"""

import sys
from datetime import date
from pathlib import Path

import click

from generator.command.exits import FOUND, about
from generator.command.files import record_file
from generator.command.findings_text import print_findings
from generator.command.options import properties_option, today_option
from generator.command.page_text import paragraph
from generator.command.terminal import colour_wanted, width_of
from generator.findings.finding import Severity

_WIDEST = 100


@click.command(short_help="Say what is so in every state of a property's controls, and what is not.")
@click.argument("record", metavar="REFERENCE|FILE")
@properties_option
@today_option
def prove(record: str, folder: Path, today: date) -> None:
    """Say what is so in every state of a property's controls, and what is not, with a counter-example.

    It is proved of the wiring as recorded: of a house that is wired otherwise it says nothing.

    Ends with 1 where something is not so, or where the record has errors, so that nothing can be worked out.

    \b
    Examples:
      hearthbook prove EB-0012
      hearthbook prove properties/EB-0127.yaml
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    from generator.pipeline import examine
    from generator.views.proofs import proofs

    file = record_file(record, folder)
    width = min(width_of(sys.stdout), _WIDEST)
    with about(str(file)):
        examination = examine(file, today=today)
        found = proofs(examination)
        if found is None:
            errors = [finding for finding in examination.findings if finding.severity >= Severity.ERROR]
            print_findings(errors, width=width_of(sys.stdout), colour=colour_wanted(sys.stdout))
            click.echo("hearthbook: nothing can be worked out before these are put right", err=True)
            raise click.exceptions.Exit(FOUND)
    controls = ", ".join(found.controls) or "none"
    lines = paragraph(f"Solved in {found.states:,} states, every combination of: {controls}.", width)
    for claim in found.claims:
        what = f"proved: {claim.claim} ({claim.covered})" if claim.proved else f"not so: {claim.claim}"
        lines += ["", *paragraph(what, width, indent=" " * 8, first="")]
        if claim.counter:
            lines += paragraph(f"{claim.counter}.", width, indent=" " * 8)
    for line in lines:
        click.echo(line)
    if not all(claim.proved for claim in found.claims):
        raise click.exceptions.Exit(FOUND)
