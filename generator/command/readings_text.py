"""What a meter shows at each terminal, laid out for a terminal of a computer.

It must not know how readings are found.
"""

from collections.abc import Iterator, Sequence

from generator.command.page_text import paragraph, table, width_of_table
from generator.record.model import Record
from generator.states.answer import Solution
from generator.states.volts_meter import Meter
from generator.views.glance import address_line
from generator.views.odd_readings import odd_readings
from generator.views.readings import BAND_V, Reading, StateReadings
from generator.views.table import CentreTable, Landing, Row, centre_tables, device_tables

_CAUTIONS = """\
These are live tests. Prefer the dead ones: isolate, lock off, prove dead. Test live only where it is justified, \
with suitable probes, and only if you are competent. Local codes and licensed practice come first.
The record may be out of date or wrong: test before you trust it."""


def head_text(record: Record, meter: Meter, supply_v: float, width: int) -> list[str]:
    """What is read, with which meter, and the cautions."""
    sure = record.sure
    megohm = f"{meter.ohm / 1e6:g} megohm" if meter.ohm >= 1e6 else f"{meter.ohm / 1e3:g} kilohm"
    low, high = BAND_V
    return [
        *paragraph(f"{record.property.reference}: {address_line(record)}", width),
        *paragraph(
            f"Recorded: {sure.how}, {sure.on.isoformat()}, by the {sure.by}, where nothing else is said.",
            width,
        ),
        "",
        *paragraph(_CAUTIONS, width),
        "",
        *paragraph(
            f"What a {meter.words} ({megohm}) shows in volt to neutral (N) and to earth (E) with the supply at "
            f"{supply_v:.0f} V. All live readings rise and fall with the supply, which may be {low:.0f} to {high:.0f} V "
            "(Electricity Safety, Quality and Continuity Regulations 2002).",
            width,
        ),
        "",
    ]


def states_text(solution: Solution, read: Sequence[StateReadings], width: int) -> list[str]:
    """All readings: one state in full, several side by side."""
    tables = [*centre_tables(solution, read), *device_tables(solution, read)]
    restless = [one for one in read if not one.volts.settled or solution.hunting >> one.number & 1]
    lines = []
    for one in restless:
        moving = ", ".join(one.volts.hunting) or "something"
        lines += paragraph(
            f"While {one.state.words} the controls never come to rest ({moving}): readings then come and go, and the "
            "figures below are those of one moment.",
            width,
        )
    lines += [""] if restless else []
    lines += _one(tables, read[0], width) if len(read) == 1 else _several(tables, read, width)
    if any(row.assumed for each in tables for row in each.rows):
        lines += paragraph("! something that lands there was assumed: nobody looked.", width)
    lines += paragraph(
        "0 is what follows from the record. It proves nothing dead: only a proved tester does.", width
    )
    lines += paragraph(
        "- joined to nothing, or to a small source of its own: 0 V, or a false reading picked up from cores beside it.",
        width,
    )
    if any(reading.word == "half-wave" for one in read for reading in one.by_terminal.values()):
        lines += paragraph(
            "half-wave, given as a range: hangs on a diode; what is shown depends on the meter and the motor.",
            width,
        )
    lines += paragraph("~ reached through a load only: look for a lost neutral or a back-feed.", width)
    return [*lines, "", "What may read oddly", *_notes(solution, read, width)]


def _notes(solution: Solution, read: Sequence[StateReadings], width: int) -> Iterator[str]:
    for note in odd_readings(solution, read):
        yield from paragraph(note, width, indent="  ")


def _one(tables: Sequence[CentreTable], read: StateReadings, width: int) -> list[str]:
    lines = [*paragraph(f"While {read.state.words}", width), ""]
    head = ("terminal", "what for", "N", "E", "it is", "lands there")
    for each in tables:
        rows = [cells for row in each.rows for cells in _row_in_full(row, row.readings[read.state.id])]
        lines += [each.device.words, *table(rows, head=head, right=(2, 3)), ""]
    return lines


def _row_in_full(row: Row, reading: Reading) -> Iterator[tuple[str, ...]]:
    """One terminal, and a line more for each conductor after the first that lands there."""
    landings = [_landing(landing) for landing in row.landings] or ["nothing"]
    yield _terminal(row), row.purpose, *_figures(reading), reading.word, landings[0]
    for landing in landings[1:]:
        yield "", "", "", "", "", landing


def _several(tables: Sequence[CentreTable], read: Sequence[StateReadings], width: int) -> list[str]:
    lines = [f"{number:>3}  {one.state.short}" for number, one in enumerate(read, start=1)]
    lines.append("")
    for each in tables:
        lines.append(each.device.words)
        for part in _parts(each, read, width):
            lines += [*part, ""]
    return lines


def _parts(each: CentreTable, read: Sequence[StateReadings], width: int) -> Iterator[list[str]]:
    """The table of one device, in as many pieces as the width asks for."""
    numbered = list(enumerate(read, start=1))
    while numbered:
        taken = len(numbered)
        while taken > 1 and width_of_table(_rows(each, numbered[:taken])) > width:
            taken -= 1
        head, *rows = _rows(each, numbered[:taken])
        yield table(rows, head=head, right=range(2, 2 + 2 * taken))
        numbered = numbered[taken:]


def _rows(each: CentreTable, numbered: Sequence[tuple[int, StateReadings]]) -> list[tuple[str, ...]]:
    head = ("terminal", "what for", *(f"{number}{to}" for number, _ in numbered for to in ("N", "E")))
    return [
        head,
        *(
            (
                _terminal(row),
                row.purpose,
                *(figure for _, one in numbered for figure in _figures(row.readings[one.state.id])),
            )
            for row in each.rows
        ),
    ]


def _terminal(row: Row) -> str:
    return f"{row.label} !" if row.assumed else row.label


def _landing(landing: Landing) -> str:
    sleeve = f" sleeved {landing.sleeve}" if landing.sleeve else ""
    core = "link" if landing.is_link else f"{landing.core}{sleeve}"
    return f"{core} from {landing.other}{' !' if landing.assumed else ''}"


def _figures(reading: Reading) -> tuple[str, str]:
    if reading.word in ("open", "apart"):
        return "-", "-"
    mark = "~" if reading.word == "through a load" else ""
    return f"{reading.shown}{mark}", f"{reading.shown_to_earth}{mark}"
