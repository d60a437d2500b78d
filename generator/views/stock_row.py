"""Makes the row of one property, of which everything about the stock is made, from what the pipeline found of it.

Must not know what is shown of a row, nor what other properties there are.
"""

from collections.abc import Iterable, Iterator
from datetime import date

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, How, PlacedDevice
from generator.findings.finding import Finding
from generator.pipeline import Examination
from generator.record.model import Record
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.views.glance import address_line, arrangement
from generator.views.property import UNREAD_ADDRESS, WITHHELD_ADDRESS, gives_away
from generator.views.stock_lines import finished
from generator.views.stock_model import PartGroup, StockCylinder, StockFinding, StockPart, StockRow
from generator.views.wording import plural
from generator.views.worked_out import WorkedOut

GROUP_OF: dict[Duty, PartGroup] = {
    Duty.VALVE: PartGroup.VALVES,
    Duty.ROOM_THERMOSTAT: PartGroup.THERMOSTATS,
    Duty.CYLINDER_THERMOSTAT: PartGroup.THERMOSTATS,
    Duty.FROST_THERMOSTAT: PartGroup.THERMOSTATS,
    Duty.PIPE_THERMOSTAT: PartGroup.THERMOSTATS,
    Duty.TIMER: PartGroup.TIMERS,
    Duty.PUMP: PartGroup.PUMPS,
    Duty.RELAY: PartGroup.RELAYS,
    Duty.CONTROLLER: PartGroup.RELAYS,
    Duty.SAFETY: PartGroup.SAFETY,
    Duty.BYPASS: PartGroup.BYPASSES,
    Duty.IMMERSION: PartGroup.IMMERSIONS,
}


def stock_row(examination: Examination, told: WorkedOut | None, *, stem: str) -> StockRow:
    """The row of an examined record.

    Args:
        examination: what the pipeline found.
        told: what was worked out of it; None where its circuit could not be solved.
        stem: the name of the record's file without its ending.
    """
    return finished(_plain_row(examination, told, stem))


def _plain_row(examination: Examination, told: WorkedOut | None, stem: str) -> StockRow:
    record, circuit = examination.record, examination.circuit
    if gives_away(examination.findings):
        secrets = tuple(each for each in examination.findings if each.rule == SECRET_IN_RECORD.name)
        return StockRow(reference=stem, address=WITHHELD_ADDRESS, findings=_flat(secrets))
    if record is None:
        return StockRow(reference=stem, address=UNREAD_ADDRESS, findings=_flat(examination.findings))
    about = record.property
    return StockRow(
        reference=stem,
        address=address_line(record),
        postcode=about.address.postcode or "",
        uprn=about.uprn or "",
        nation=about.nation,
        fuel=about.fuel,
        house_type=record.house_type or "",
        arrangement=arrangement(circuit) if circuit else "",
        kinds=_kinds(circuit) if circuit else (),
        unusual=tuple(dict.fromkeys(one.key for one in told.unusual)) if told else (),
        orange=told.orange if told else (),
        worked_out=told is not None,
        findings=_flat(examination.findings),
        parts=tuple(_parts(record, circuit)) if circuit else (),
        cylinders=tuple(_cylinders(circuit)) if circuit else (),
        looked_on=_looked_on(record, circuit),
        visited_on=max((visit.on for visit in record.visits), default=None),
    )


def still_shown(last_good: StockRow, newer: StockRow) -> StockRow:
    """The row of a property whose pages show its last good state, with what is wrong with the file now."""
    return finished(last_good._replace(findings=newer.findings))


def _flat(findings: Iterable[Finding]) -> tuple[StockFinding, ...]:
    return tuple(StockFinding.of(each) for each in findings)


def _kinds(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    return tuple(dict.fromkeys((device.kind.name, device.kind.words) for device in circuit.devices))


def _parts(record: Record, circuit: Circuit) -> Iterator[StockPart]:
    for device in circuit.devices:
        group = GROUP_OF.get(device.duty)
        if group is None:
            continue
        written = record.devices.get(device.name)
        whole = StockPart(
            group=group,
            kind=device.kind.name,
            words=device.kind.words,
            detail=detail(device),
            device=device.words,
            place=device.place,
            part=(written.part if written else None) or "",
            fitted=written.fitted if written else None,
        )
        yield whole
        if group is PartGroup.VALVES:
            yield from _motors(device, whole)


def _motors(device: PlacedDevice, whole: StockPart) -> Iterator[StockPart]:
    """The motors of a valve: they are renewed without it."""
    for load in device.parts.loads:
        if load.kind is LoadKind.MOTOR:
            yield whole._replace(
                group=PartGroup.MOTORS, words=f"{whole.words} motor", detail=f"{load.watts:g} W"
            )


def detail(device: PlacedDevice) -> str:
    """What must fit when the device is renewed, from its settings; empty where nothing is recorded of it."""
    given = device.settings
    said = []
    size = getattr(given, "size_mm", None)
    if size is not None:
        said.append(f"{size} mm")
    for name, one in (("channels", "channel"), ("zones", "zone"), ("wires", "wire")):
        count = getattr(given, name, None)
        if isinstance(count, int):
            said.append(plural(count, one))
    for name, value, words in _TOLD:
        if getattr(given, name, None) == value:
            said.append(words)
    return ", ".join(said)


_TOLD: tuple[tuple[str, object, str], ...] = (
    ("rests", "open", "normally open"),
    ("end_switch", "change-over", "change-over end switch"),
    ("end_switch", "none", "no end switch"),
    ("end_switch", True, "with an end switch"),
    ("type", "electronic", "electronic"),
    ("power", "battery", "on a battery"),
    ("power", "mains", "on the mains"),
    ("satisfied_terminal", True, "with a satisfied terminal"),
    ("volt_free", True, "volt-free"),
    ("control", True, "with a permanent supply"),
)
"""Settings by which one part of a kind cannot stand in for another."""


def _cylinders(circuit: Circuit) -> Iterator[StockCylinder]:
    for device in circuit.with_duty(Duty.CYLINDER):
        litres = getattr(device.settings, "litres", None)
        yield StockCylinder(
            device=device.words,
            place=device.place,
            system=str(getattr(device.settings, "system", "")),
            litres=litres if isinstance(litres, int) else None,
            cut_out=str(getattr(device.settings, "cut_out", "")),
            relief_valve=str(getattr(device.settings, "relief_valve", "")),
        )


def _looked_on(record: Record, circuit: Circuit | None) -> date | None:
    days = [visit.on for visit in record.visits]
    if record.sure.how != How.ASSUMED.value:
        days.append(record.sure.on)
    if circuit is not None:
        certain = {device.certainty for device in circuit.devices}
        certain |= {conductor.certainty for conductor in circuit.conductors}
        days += [each.on for each in certain if each.how is not How.ASSUMED]
    return max(days, default=None)
