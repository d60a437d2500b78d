"""What the whole stock's pages, tables and finder need of one property: one small plain row, made once with it.

Everything about the stock is made from such rows alone; the rows hold no circuit, no drawing and no text of a record.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from urllib.parse import quote

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, How, PlacedDevice
from generator.findings.finding import Finding, Severity
from generator.pipeline import Examination
from generator.record.model import Record
from generator.rules.record_itself import SECRET_IN_RECORD
from generator.views.glance import address_line, arrangement
from generator.views.property import UNREAD_ADDRESS, WITHHELD_ADDRESS, gives_away
from generator.views.unusual import unusual, valves_by_live_core
from generator.views.wording import plural


class PartGroup(StrEnum):
    """The sorts of part that are carried on the van, by what they do."""

    VALVES = "valves"
    MOTORS = "motors"
    THERMOSTATS = "thermostats"
    TIMERS = "timers"
    PUMPS = "pumps"
    RELAYS = "relays and controllers"
    SAFETY = "safety switches"
    BYPASSES = "bypass valves"
    IMMERSIONS = "immersion heaters"


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


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPart:
    """A part in a house that a van may carry. Texts are empty and ``fitted`` is None where not recorded.

    Attributes:
        group: What sort of part it is.
        kind: The kind of the device that it is, or that it sits on, by its name in records.
        words: What pages call that part, ``two-port valve``.
        detail: What must fit when it is renewed, ``22 mm, normally open``.
        device: The device in the house, as its pages call it.
        place: Where that is.
        part: The firm's own reference of the part.
        fitted: The day it was fitted.
    """

    group: PartGroup
    kind: str
    words: str
    detail: str
    device: str
    place: str
    part: str
    fitted: date | None


@dataclass(frozen=True, slots=True, kw_only=True)
class StockCylinder:
    """A hot water cylinder. ``litres`` is None and texts are empty where not recorded."""

    device: str
    place: str
    system: str
    litres: int | None
    cut_out: str
    relief_valve: str


@dataclass(frozen=True, slots=True, kw_only=True)
class StockRow:
    """One property, as far as the stock's own pages, tables and finder show it.

    Attributes:
        reference: As its file is named.
        address: In one line, the postcode at its end where there is one.
        arrangement: What the circuit does, in one sentence; empty where there is no circuit.
        kinds: The kinds of its devices, each once as (name in records, words), in record order.
        unusual: What is unusual, by key, each once; empty where ``worked_out`` is false.
        orange: The valves whose permanent live is on the orange core, in words.
        worked_out: Whether the circuit could be solved.
        findings: All that is wrong, by place; of a file that no longer can be read, what is wrong with it now.
        looked_on: The last day on which anybody looked at or tested anything there: the latest of the visits and of
            what is recorded as seen or tested. None where nobody ever did.
        visited_on: The day of the last visit, None where none is recorded.
    """

    reference: str
    address: str
    postcode: str = ""
    uprn: str = ""
    nation: str = ""
    fuel: str = ""
    house_type: str = ""
    arrangement: str = ""
    kinds: tuple[tuple[str, str], ...] = ()
    unusual: tuple[str, ...] = ()
    orange: tuple[str, ...] = ()
    worked_out: bool = False
    findings: tuple[Finding, ...] = ()
    parts: tuple[StockPart, ...] = ()
    cylinders: tuple[StockCylinder, ...] = ()
    looked_on: date | None = None
    visited_on: date | None = None

    @property
    def folder(self) -> str:
        """The reference as it stands in an address."""
        return quote(self.reference, safe="")

    @property
    def worst(self) -> Severity | None:
        """The worst severity of its findings."""
        return max((finding.severity for finding in self.findings), default=None)


def stock_row(examination: Examination, *, stem: str) -> StockRow:
    """The row of an examined record.

    Args:
        examination: what the pipeline found.
        stem: the name of the record's file without its ending.
    """
    record, circuit, solution = examination.record, examination.circuit, examination.solution
    if gives_away(examination.findings):
        told = tuple(each for each in examination.findings if each.rule == SECRET_IN_RECORD.name)
        return StockRow(reference=stem, address=WITHHELD_ADDRESS, findings=_slim(told))
    if record is None:
        return StockRow(reference=stem, address=UNREAD_ADDRESS, findings=_slim(examination.findings))
    odd = unusual(record, solution) if solution else ()
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
        unusual=tuple(dict.fromkeys(one.key for one in odd)),
        orange=tuple(valve.words for valve in valves_by_live_core(solution)[0]) if solution else (),
        worked_out=solution is not None,
        findings=_slim(examination.findings),
        parts=tuple(_parts(record, circuit)) if circuit else (),
        cylinders=tuple(_cylinders(circuit)) if circuit else (),
        looked_on=_looked_on(record, circuit),
        visited_on=max((visit.on for visit in record.visits), default=None),
    )


def still_shown(last_good: StockRow, newer: StockRow) -> StockRow:
    """The row of a property whose pages show its last good state, with what is wrong with the file now."""
    return replace(last_good, findings=newer.findings)


def _slim(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Findings without the other places that matter: no page of the stock shows them."""
    return tuple(replace(each, related=()) if each.related else each for each in findings)


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
            yield replace(
                whole, group=PartGroup.MOTORS, words=f"{whole.words} motor", detail=f"{load.watts:g} W"
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
