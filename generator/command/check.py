"""The command `check`: holds records against every rule and prints what it found.

It must not know any rule.
"""

import sys
from datetime import date
from pathlib import Path

import click

from generator.command.exits import OurBug, complain
from generator.command.files import list_files
from generator.command.findings_data import annotations, as_json
from generator.command.findings_text import gnu_line, print_findings
from generator.command.options import jobs_option, today_option
from generator.command.progress import progress
from generator.command.stock import StockCheck, check_stock
from generator.command.summary import WORST_FIRST, exit_code, summary
from generator.command.terminal import colour_wanted, harmless, width_of
from generator.findings.finding import Severity
from generator.findings.findings_csv import findings_csv

FORMATS = ("text", "gnu", "json", "csv", "github")


@click.command(short_help="Hold records against every rule and print what is wrong with them.")
@click.argument("paths", nargs=-1, type=click.Path(path_type=Path))
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    default="text",
    show_default=True,
    help="text: for people. gnu: only `file:line:column: severity: message (rule)`. json: for programs; "
    "`hearthbook schema --of findings` describes it. csv: a table for a spreadsheet. github: annotations of a build server.",
)
@click.option(
    "--min-severity",
    "least",
    type=click.Choice([str(severity) for severity in WORST_FIRST]),
    default=str(Severity.NOTE),
    show_default=True,
    help="Show no findings below this; they still count.",
)
@click.option("--strict", is_flag=True, help="Let warnings fail the check as well.")
@today_option
@jobs_option
def check(paths: tuple[Path, ...], form: str, least: str, strict: bool, today: date, jobs: int) -> None:
    """Hold records against every rule and print what is wrong with them.

    PATHS are records, or folders of records with their folder `house-types`; without any, the folder `properties`.
    All findings come at once, by file and line.

    Ends with 0 where there is no danger and no error (with --strict, no warning either), 1 where there is,
    2 where something could not be checked.

    \b
    Examples:
      hearthbook check
      hearthbook check properties/EB-0012.yaml
      hearthbook check --format gnu --min-severity error properties
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    files = list_files(paths or (Path("properties"),))
    with progress("checking", len(files), "files") as step:
        done = check_stock(files, today=today, jobs=jobs, step=step)
    _print(done, form, Severity(least), strict=strict)
    tell_not_checked(done)
    code = exit_code(done, strict=strict)
    if code:
        raise click.exceptions.Exit(code)


def _print(done: StockCheck, form: str, least: Severity, *, strict: bool) -> None:
    shown = [finding for finding in done.findings if finding.severity >= least]
    if form == "json":
        click.echo(as_json(done, least=least, strict=strict))
        return
    if form == "csv":
        references = {
            each.file: each.reference.written for each in done.checked if each.reference is not None
        }
        table = findings_csv(
            (reference, finding)
            for finding in shown
            for reference in finding.properties or (references.get(finding.span.file, ""),)
        )
        click.echo(table.replace("\r\n", "\n"), nl=False)
        return
    if form == "gnu":
        for finding in shown:
            click.echo(gnu_line(finding))
        return
    if form == "github":
        for line in annotations(shown):
            click.echo(line)
    else:
        print_findings(shown, width=width_of(sys.stdout), colour=colour_wanted(sys.stdout))
    click.echo(summary(done, least=least))


def tell_not_checked(done: StockCheck) -> None:
    """Say on stderr which files could not be checked to the end, and why.

    Raises:
        OurBug: that is our mistake for any of them.
    """
    for each in done.not_checked:
        if each.cannot:
            complain(f"{harmless(each.file)} was not checked to the end: {each.cannot}")
    if done.crashes:
        raise OurBug(done.crashes)
