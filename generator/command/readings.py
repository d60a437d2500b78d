"""The command `readings`: what a meter shows at each terminal, in the states that were asked for.

It must not know how readings are found.
"""

import sys
from datetime import date
from pathlib import Path

import click

from generator.circuit.model import Circuit
from generator.command.asked_states import ALL, EACH, REST, Asked, by_controls, by_name, by_zones
from generator.command.exits import FOUND, about
from generator.command.files import record_file
from generator.command.findings_text import gnu_line, print_findings
from generator.command.options import properties_option, today_option
from generator.command.terminal import colour_wanted, width_of
from generator.findings.finding import Severity


@click.command(short_help="Say what a meter shows at each terminal, in each state of the controls.")
@click.argument("record", metavar="REFERENCE|FILE")
@properties_option
@click.option(
    "--calls", metavar="ZONES", help="The state in which exactly these zones call, such as hall,hot-water."
)
@click.option(
    "--on",
    metavar="CONTROLS",
    help="The state in which exactly these controls are on, such as programmer.1,hall-thermostat, or a lever that is "
    "moved, such as hall-valve.lever.",
)
@click.option(
    "--off",
    metavar="CONTROLS",
    help="With --on or alone: what is usually on, and is off, such as an isolator.",
)
@click.option(
    "--state",
    type=click.Choice([REST, ALL, EACH]),
    help="rest: nothing calls. all: everything calls. each: those, and each zone alone; so without any option.",
)
@click.option(
    "--meter",
    type=click.Choice(["high", "low"]),
    default="high",
    show_default=True,
    help="high: a multimeter, which shows what cores beside pick up. low: a low-impedance tester.",
)
@today_option
def readings(
    record: str,
    folder: Path,
    calls: str | None,
    on: str | None,
    off: str | None,
    state: str | None,
    meter: str,
    today: date,
) -> None:
    """Say what a meter shows at each terminal, to neutral and to earth, in each state of the controls.

    These are live tests, for people competent in them; local codes and licensed practice come first.

    Ends with 1 where the record has errors, so that nothing can be worked out, and tells them.

    \b
    Examples:
      hearthbook readings EB-0012
      hearthbook readings EB-0012 --calls hall,hot-water --meter low
      hearthbook readings properties/EB-0012.yaml --on programmer.1,hall-thermostat
    """  # noqa: D301  # the backslash is click's mark for lines that stay as they are
    from generator.command.readings_text import head_text, states_text
    from generator.pipeline import examine
    from generator.states.solve import solve
    from generator.states.volts_meter import HIGH_IMPEDANCE, LOW_IMPEDANCE
    from generator.views.history import with_histories
    from generator.views.readings import read_states
    from generator.views.shown_states import shown_states

    if sum((calls is not None, on is not None or off is not None, state is not None)) > 1:
        raise click.UsageError("Use one of --calls, --on with --off, and --state.")
    file = record_file(record, folder)
    width = width_of(sys.stdout)
    with about(str(file)):
        examination = examine(file, today=today)
        solution = examination.solution
        if solution is None or examination.record is None:
            errors = [finding for finding in examination.findings if finding.severity >= Severity.ERROR]
            print_findings(errors, width=width, colour=colour_wanted(sys.stdout))
            click.echo("hearthbook: nothing can be worked out before these are put right", err=True)
            raise click.exceptions.Exit(FOUND)
        asked = _asked(solution.circuit, calls, on, off, state or EACH)
        if asked.held:
            solution = solve(solution.circuit, asked.held)
        used = HIGH_IMPEDANCE if meter == "high" else LOW_IMPEDANCE
        states = with_histories(solution, asked.states, shown_states(solution.circuit))
        read = read_states(solution, states, meter=used)
        lines = head_text(examination.record, used, read[0].volts.supply_v, min(width, 100))
        dangers = [gnu_line(each) for each in examination.findings if each.severity is Severity.DANGER]
        for line in [*lines, *dangers, *([""] if dangers else []), *states_text(solution, read, width)]:
            click.echo(line)


def _asked(circuit: Circuit, calls: str | None, on: str | None, off: str | None, state: str) -> Asked:
    if calls is not None:
        return by_zones(circuit, _names(calls))
    if on is not None or off is not None:
        return by_controls(circuit, _names(on or ""), _names(off or ""))
    return by_name(circuit, state)


def _names(given: str) -> list[str]:
    return [name.strip() for name in given.split(",") if name.strip()]
