"""What is unusual in a house, worked out from its wiring and devices: what an engineer must know before touching it."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, PlacedDevice
from generator.record.model import Record
from generator.states.answer import Solution
from generator.views.unusual_devices import unusual_calls, unusual_heat
from generator.views.valve_switches import end_switch_sides
from generator.views.wording import Naming, capital, listed, lower, plural

_OLD = frozenset({"RD"})


@dataclass(frozen=True, slots=True, kw_only=True)
class Unusual:
    """One unusual thing: ``key`` for searching the stock, ``words`` a sentence for the page."""

    key: str
    words: str


def unusual(record: Record, solution: Solution) -> tuple[Unusual, ...]:
    """Everything unusual, what can hurt first."""
    circuit = solution.circuit
    return tuple(
        Unusual(key=key, words=words)
        for source in (
            unusual_heat(circuit),
            _supplies(circuit),
            _assumed(circuit),
            _fed_side(solution),
            _colours(solution),
            _boxes(circuit),
            _special(circuit),
            unusual_calls(circuit),
            _timing(circuit),
            _spare(circuit),
        )
        for key, words in source
    ) + tuple(Unusual(key="notes", words=note.strip()) for note in [record.notes] if note)


def _supplies(circuit: Circuit) -> Iterator[tuple[str, str]]:
    supplies = circuit.with_duty(Duty.SUPPLY)
    if len(supplies) > 1:
        places = [f"{lower(d.words)}{f' ({d.place})' if d.place else ''}" for d in supplies]
        yield (
            "several-supplies",
            (
                f"{capital(plural(len(supplies), 'supply', 'supplies'))}: {listed(places)}. "
                "Isolate and prove each dead."
            ),
        )


def _assumed(circuit: Circuit) -> Iterator[tuple[str, str]]:
    assumed = [conductor for conductor in circuit.conductors if conductor.assumed]
    if assumed:
        cables = list(dict.fromkeys(conductor.cable or "links" for conductor in assumed))
        yield (
            "assumed-wiring",
            (
                f"{capital(plural(len(assumed), 'conductor'))} assumed, not seen: {listed(cables)}. "
                "Test before relying on them."
            ),
        )


def valves_by_live_core(solution: Solution) -> tuple[tuple[PlacedDevice, ...], tuple[PlacedDevice, ...]]:
    """The valves whose end switch takes the permanent live on its orange core, and those that take it on grey.

    By what is live in every state, whatever the house is called; a valve with neither or with both is in none.
    """
    line, everywhere = solution.settled.line, solution.space.everywhere
    by_core: dict[str, list[PlacedDevice]] = {"OG": [], "GY": []}
    for valve in solution.circuit.with_duty(Duty.VALVE):
        fed = [
            place.terminal.usual_core
            for place, ref in end_switch_sides(solution.circuit)
            if place.device is valve and line[ref] == everywhere
        ]
        if len(fed) == 1 and fed[0] in by_core:
            by_core[fed[0]].append(valve)
    return tuple(by_core["OG"]), tuple(by_core["GY"])


def _fed_side(solution: Solution) -> Iterator[tuple[str, str]]:
    orange, grey = valves_by_live_core(solution)
    if orange and grey:
        yield (
            "permanent-live-mixed",
            f"The permanent live is on orange at {listed(_the(orange))}, on grey at {listed(_the(grey))}.",
        )
    elif orange:
        yield (
            "permanent-live-on-orange",
            (
                "Orange is the permanent live at the valves here, and grey goes to the boiler: "
                "orange reads live with nothing calling."
            ),
        )


def _the(devices: Iterable[PlacedDevice]) -> list[str]:
    return [f"the {lower(device.words)}" for device in devices]


def _colours(solution: Solution) -> Iterator[tuple[str, str]]:
    """Colours that mean something else here than by custom: one sentence for all cores alike in this."""
    circuit = solution.circuit
    naming = Naming(circuit)
    line = solution.settled.line
    alike: dict[tuple[str, bool, str], list[str]] = {}
    for conductor in circuit.conductors:
        colour = conductor.core.rstrip("0123456789")
        if not colour or not line[conductor.a]:
            continue
        if colour in ("BU", "GNYE") or (colour == "BK" and _old_cable(circuit, conductor.cable)):
            always = line[conductor.a] == solution.space.everywhere
            way = f"from {naming.point(conductor.a)} to {naming.point(conductor.b)}"
            alike.setdefault((colour, always, conductor.sleeve), []).append(way)
    for (colour, always, sleeve), ways in alike.items():
        what = f"{'permanent' if always else 'switched'} live"
        how = f"sleeved {sleeve}" if sleeve else "not sleeved"
        yield (
            "line-in-neutral-colour" if colour != "GNYE" else "line-in-earth-colour",
            f"The {colour} core {ways[0]} is a {what}, {how}."
            if len(ways) == 1
            else f"{capital(plural(len(ways), f'{colour} core'))} are {what}s, {how}: {listed(ways)}.",
        )
    old = list(dict.fromkeys(c.cable for c in circuit.conductors if c.core.rstrip("0123456789") in _OLD))
    if old:
        yield "old-colours", f"Old colours (red line, black neutral) in {listed(old)}."


def _old_cable(circuit: Circuit, cable: str) -> bool:
    """Black is the old neutral only beside red."""
    return any(c.cable == cable and c.core.rstrip("0123456789") in _OLD for c in circuit.conductors)


def _boxes(circuit: Circuit) -> Iterator[tuple[str, str]]:
    centres = circuit.with_duty(Duty.CENTRE)
    if len(centres) > 1:
        places = [f"{lower(d.words)}{f' ({d.place})' if d.place else ''}" for d in centres]
        yield "several-centres", f"{capital(plural(len(centres), 'wiring centre'))}: {listed(places)}."
    boxes = {centre.name for centre in centres}
    direct = [
        c
        for c in circuit.conductors
        if not c.is_link and c.a.split(".", 1)[0] not in boxes and c.b.split(".", 1)[0] not in boxes
    ]
    if direct and centres:
        cables = list(dict.fromkeys(c.cable for c in direct))
        yield "direct-wiring", f"Wired directly, not through a wiring centre: {listed(cables)}."
    relays = circuit.with_duty(Duty.RELAY)
    plain = [relay for relay in relays if not relay.special]
    if plain:
        yield (
            "relay",
            f"{capital(listed([lower(relay.words) for relay in plain]))}: a relay stands in the call.",
        )
    for relay in relays:
        if relay.special:
            yield "relay", f"{relay.words}, a relay in the call: {relay.special.strip()}"


def _special(circuit: Circuit) -> Iterator[tuple[str, str]]:
    for device in circuit.devices:
        if device.special and device.duty is not Duty.RELAY:
            yield "special", f"{device.words}: {device.special.strip()}"


def _timing(circuit: Circuit) -> Iterator[tuple[str, str]]:
    without = [zone for zone in circuit.zones if not zone.channel]
    if without and not circuit.with_duty(Duty.TIMER):
        yield "no-timer", "There is no timer: each thermostat keeps its own times."
    elif without:
        yield "zone-without-timer", f"No timer channel for {listed([lower(zone.words) for zone in without])}."


def _spare(circuit: Circuit) -> Iterator[tuple[str, str]]:
    loose = [core for core in circuit.spare if core.how in ("bare", "not seen")]
    if loose:
        cores = [f"{core.core} of {core.cable}" for core in loose]
        yield "loose-cores", f"Spare cores that are not made safe or were not seen: {listed(cores)}."
