"""The command `override`: what a tenant of one property may do while something has failed, and the proof.

It must not know how anything is searched or proved.
"""

import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import click

from generator.command.exits import FOUND, about
from generator.command.files import record_file
from generator.command.firm import config_option, firm_settings
from generator.command.options import properties_option, today_option
from generator.command.page_text import paragraph
from generator.command.terminal import width_of
from generator.views.overrides import OverridesView, ShownInstruction
from generator.views.wording import capital, plural

_WIDEST = 100


@click.command(short_help="Say what a tenant may do while something has failed, and the proof.")
@click.argument("record", metavar="REFERENCE|FILE")
@properties_option
@config_option
@click.option("--faults", is_flag=True, help="Also the shortest safe steps for every single fault.")
@today_option
def override(record: str, folder: Path, config: Path | None, faults: bool, today: date) -> None:
    """Say what a tenant of one property may do about each thing that can be seen, and what was proved of it.

    Goes by the wiring as recorded, by who can reach each control, and by what the firm's settings allow. Ends with 1
    where the house has no step at all.

    \b
    Examples:
      hearthbook override EB-0012
      hearthbook override EB-0012 --faults
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    from generator.overrides.overrides import overrides
    from generator.pipeline import examine
    from generator.views.overrides import overrides_view

    _, firm = firm_settings(config, folder)
    file = record_file(record, folder)
    with about(str(file)):
        examination = examine(file, today=today)
        found = overrides(examination.solution, examination.findings, firm.overrides.policy)
        view = overrides_view(examination.circuit, found)
    width = min(width_of(sys.stdout), _WIDEST)
    for line in _lines(view, width, faults=faults):
        click.echo(line)
    if view.refused or not any(each.attempts for each in view.instructions):
        raise click.exceptions.Exit(FOUND)


def _lines(view: OverridesView, width: int, *, faults: bool) -> Iterator[str]:
    if view.refused:
        yield from paragraph(view.refused, width)
        return
    yield from paragraph(view.covered, width)
    for each in view.instructions:
        yield ""
        yield from _instruction(each, width)
    if faults:
        for plan in view.plans:
            yield ""
            what = "; ".join(plan.steps) if plan.steps else f"no step. {plan.why}"
            yield from paragraph(f"{plan.service}: {what} {plan.while_}".rstrip(), width)
            for words in plan.faults:
                yield from paragraph(words, width, indent=" " * 6, first="    - ")
    if view.hazards:
        yield ""
        yield from paragraph(
            "Looked for in every state with every fault behind a symptom, and not found:", width
        )
    for hazard in view.hazards:
        yield from paragraph(f"{hazard}.", width, indent="    ", first="  - ")
    yield ""
    for limit in view.limits:
        yield from paragraph(limit, width)


def _instruction(each: ShownInstruction, width: int) -> Iterator[str]:
    yield from paragraph(f"{each.heading} [{each.slug}]", width)
    yield from paragraph(each.covered, width, indent="  ", first="  ")
    number = 0
    for attempt in each.attempts:
        for step in attempt.steps:
            number += 1
            yield from paragraph(f"{step}.", width, indent="       ", first=f"  {number:>3}  ")
        said = " ".join((attempt.brings, *attempt.says))
        helps = len(attempt.helps)
        yield from paragraph(
            f"{said} Helps with {helps} fault{'s' if helps != 1 else ''}.",
            width,
            indent="       ",
            first="       ",
        )
    for reason in each.reasons:
        yield from paragraph(reason, width, indent="    ", first="  - ")
    if each.put_back:
        yield from paragraph(f"To put it back: {'; '.join(each.put_back)}.", width, indent="    ", first="  ")
    for shown in each.shown:
        yield from paragraph(f"proved: {shown}", width, indent="    ", first="  ")
    if each.not_helped:
        yield from paragraph(
            f"{capital(plural(len(each.not_helped), 'fault'))} {'is' if len(each.not_helped) == 1 else 'are'} not helped by any step.",
            width,
            indent="  ",
            first="  ",
        )
