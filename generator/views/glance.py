"""The first page of a property: what is there and where, what is unusual, what is wrong, how sure we are."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, How, PlacedDevice
from generator.findings.finding import Finding
from generator.record.model import Record
from generator.views.unusual import Unusual
from generator.views.wording import capital, listed, number, plural
from generator.views.worked_out import WorkedOut


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One line of the list of facts."""

    words: str
    value: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Whereabouts:
    """Where one device is and who can reach it."""

    device: str
    kind: str
    place: str
    reach: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Glance:
    """What the first page shows; findings worst first, then by place. ``unusual`` is None where the circuit could not be solved.

    ``wired`` is whether any conductor is recorded.
    """

    address: str
    arrangement: str
    facts: tuple[Fact, ...]
    where: tuple[Whereabouts, ...]
    wired: bool
    unusual: tuple[Unusual, ...] | None
    findings: tuple[Finding, ...]
    sure: str
    sure_counts: tuple[Fact, ...]
    last_visit: date | None


_FIRST = (Duty.SUPPLY, Duty.CENTRE, Duty.VALVE, Duty.TIMER, Duty.BOILER, Duty.PUMP, Duty.CYLINDER)


def glance(
    record: Record, circuit: Circuit | None, told: WorkedOut | None, findings: Sequence[Finding]
) -> Glance:
    """The first page of a property.

    Args:
        record: The record.
        circuit: Its circuit, as far as there is one.
        told: What was worked out of it; None where it could not be solved.
        findings: What is wrong.
    """
    about = record.property
    return Glance(
        address=address_line(record),
        arrangement=arrangement(circuit) if circuit else "",
        facts=(
            Fact(words="Reference", value=about.reference),
            *((Fact(words="UPRN", value=about.uprn),) if about.uprn else ()),
            Fact(words="Nation", value=capital(about.nation)),
            Fact(words="Fuel", value=about.fuel.upper() if about.fuel == "lpg" else capital(about.fuel)),
            Fact(words="Dwelling", value=_dwelling(record)),
            *((Fact(words="House type", value=record.house_type),) if record.house_type else ()),
        ),
        where=tuple(_where(circuit)) if circuit else (),
        wired=bool(circuit and circuit.conductors),
        unusual=told.unusual if told else None,
        findings=tuple(sorted(findings, key=lambda finding: -finding.severity.rank)),
        sure=f"{capital(record.sure.how)} {record.sure.on.isoformat()}, {record.sure.by}",
        sure_counts=_sure_counts(circuit) if circuit else (),
        last_visit=max((visit.on for visit in record.visits), default=None),
    )


def alike(findings: Sequence[Finding]) -> tuple[tuple[Finding, ...], ...]:
    """The findings in groups of one rule and one severity that are put right alike, each where its first one stands."""
    groups: dict[tuple[str, str, str], list[Finding]] = {}
    for finding in findings:
        groups.setdefault((finding.rule, finding.severity, finding.fix), []).append(finding)
    return tuple(tuple(group) for group in groups.values())


def address_line(record: Record) -> str:
    """The address in one line."""
    address = record.property.address
    return ", ".join([*address.lines, address.town, *([address.postcode] if address.postcode else [])])


def arrangement(circuit: Circuit) -> str:
    """The arrangement in one sentence, from the devices and zones themselves."""
    valves, zones = circuit.with_duty(Duty.VALVE), circuit.zones
    heating = [zone for zone in zones if zone.serves == "heating"]
    water = [zone for zone in zones if zone.serves == "hot water"]
    served = []
    if heating:
        served.append(plural(len(heating), "heating zone"))
    if water:
        served.append("hot water" if len(water) == 1 else plural(len(water), "hot water zone"))
    kinds = Counter(valve.kind.words for valve in valves)
    by = listed([plural(count, kind) for kind, count in kinds.items()])
    sentence = capital(listed(served)) or "No zones recorded"
    if by:
        sentence += f", on {by}"
    timers = circuit.with_duty(Duty.TIMER)
    channels = sum(len(timer.parts.inputs) for timer in timers)
    if timers:
        sentence += f"; {_a(timers)} with {plural(channels, 'channel')}"
    boilers = circuit.with_duty(Duty.BOILER)
    if any(item.name == f"{boiler.name}.overrun" for boiler in boilers for item in circuit.inputs):
        sentence += "; the boiler holds the pump on after a call (overrun)"
    return f"{sentence}."


def _a(timers: tuple[PlacedDevice, ...]) -> str:
    if len(timers) == 1:
        return f"a {timers[0].kind.words}"
    return f"{number(len(timers))} timers"


def _dwelling(record: Record) -> str:
    dwelling = record.property.dwelling
    built = f", built {dwelling.year}" if dwelling.year else ""
    new = ", new dwelling" if dwelling.status == "new" else ""
    return f"{plural(dwelling.storeys, 'storey')}, {dwelling.floor_area_m2:g} m²{built}{new}".capitalize()


def _where(circuit: Circuit) -> list[Whereabouts]:
    """Isolator, centre and valves first, the rest in record order."""
    ordered = [device for duty in _FIRST for device in circuit.with_duty(duty)]
    ordered += [device for device in circuit.devices if device.duty not in _FIRST]
    return [
        Whereabouts(
            device=device.words,
            kind=capital(device.kind.words),
            place=device.place or "not recorded",
            reach=device.reach,
        )
        for device in ordered
    ]


def _sure_counts(circuit: Circuit) -> tuple[Fact, ...]:
    counts = Counter(conductor.certainty.how for conductor in circuit.conductors)
    return tuple(
        Fact(words=capital(how), value=plural(counts[how], "conductor")) for how in How if counts[how]
    )
