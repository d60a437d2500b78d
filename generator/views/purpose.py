"""What each terminal of a wiring centre is for, worked out from what is joined to it.

Goes by the wiring and the solved states, never by a terminal's label or an arrangement's name.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Expr, Is, atoms
from generator.catalogue.parts import DeviceParts, Role
from generator.circuit.model import Circuit, TerminalPlace, ZoneIntent
from generator.states.answer import Solution
from generator.states.network import fold
from generator.views.wording import capital, listed, lower


def purposes(solution: Solution) -> dict[str, str]:
    """A few words for every terminal of every wiring centre, by its name (``centre.A``)."""
    circuit = solution.circuit
    group = fold(circuit).group
    members: dict[int, list[TerminalPlace]] = {}
    for place in circuit.terminals:
        if place.device.duty is not Duty.CENTRE:
            members.setdefault(group[place.ref], []).append(place)
    found: dict[str, str] = {}
    for place in circuit.terminals:
        if place.device.duty is Duty.CENTRE:
            found[place.ref] = _purpose(solution, place.ref, members.get(group[place.ref], []))
    return found


def _purpose(solution: Solution, ref: str, members: list[TerminalPlace]) -> str:
    if not members:
        return "Not used"
    everywhere = solution.space.everywhere
    for joined, words in (
        (solution.settled.line, "Permanent live"),
        (solution.settled.neutral, "Neutral"),
        (solution.settled.earth, "Earth"),
    ):
        if joined[ref] == everywhere:
            return words
    circuit = solution.circuit
    parts: list[str] = []
    boiler = [m for m in members if m.device.duty is Duty.BOILER and m.terminal.role is Role.SWITCHED_LINE]
    pump = [m for m in members if m.device.duty is Duty.PUMP and m.terminal.role is Role.SWITCHED_LINE]
    output = [m for m in members if m.device.duty is Duty.BOILER and m.terminal.role is Role.OUTPUT]
    motors = [m for m in members if m.device.duty is Duty.VALVE and m.terminal.role is Role.SWITCHED_LINE]
    channels = [m for m in members if m.device.duty is Duty.TIMER and m.terminal.role is Role.OUTPUT]
    calls = [
        m
        for m in members
        if m.device.duty in (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT)
        and m.terminal.role is Role.OUTPUT
    ]
    coils = [m for m in members if m.device.duty is Duty.RELAY and m.terminal.role is Role.SWITCHED_LINE]
    if boiler:
        parts.append("boiler call")
    if pump or output:
        parts.append("pump")
    if motors:
        parts.append(listed(list(dict.fromkeys(_moved(circuit, place) for place in motors))))
    if coils:
        parts.append(listed([lower(m.device.words) for m in coils]) + " coil")
    if not parts and calls:
        parts.append(
            listed([_of_zone(circuit, "thermostat", m.device.name, m.device.words) for m in calls])
            + (" satisfied" if all(m.terminal.name == "satisfied" for m in calls) else " call")
        )
    if not parts and channels:
        parts.append(listed([_channel(circuit, m) for m in channels]) + _on_or_off(channels))
    if not parts:
        first = members[0]
        parts.append(f"{lower(first.device.words)} {first.terminal.words}")
    return capital(listed(parts))


def _moved(circuit: Circuit, place: TerminalPlace) -> str:
    """What a valve's terminal moves: ``hall valve``; of a valve that serves several zones what the terminal is for."""
    device = place.device
    if sum(zone.valve == device.name for zone in circuit.zones) < 2:
        return f"{_of_zone(circuit, 'valve', device.name, device.words)} valve"
    if place.terminal.words == "motor":
        return f"{lower(device.words)} motor"
    return f"{place.terminal.words} at {lower(device.words)}"


def _on_or_off(channels: list[TerminalPlace]) -> str:
    return " off" if all(m.terminal.name.startswith("off-") for m in channels) else " on"


def _zone(circuit: Circuit, part: str, device: str) -> ZoneIntent | None:
    return next((zone for zone in circuit.zones if getattr(zone, part) == device), None)


def _of_zone(circuit: Circuit, part: str, device: str, words: str) -> str:
    zone = _zone(circuit, part, device)
    if zone is None:
        return lower(words).removesuffix(f" {part}")
    return lower(zone.words)


def _channel(circuit: Circuit, place: TerminalPlace) -> str:
    device = place.device
    moved = [
        name
        for contact in device.parts.contacts
        if contact.b == place.ref
        for name in _movers(device.parts, contact.when)
    ]
    served = [lower(zone.words) for zone in circuit.zones if zone.channel in moved[:1]]
    if served:
        return f"{listed(served)} timer"
    words = place.terminal.words.removesuffix(" on").removesuffix(" off")
    return f"{lower(device.words)} {words}"


def _movers(parts: DeviceParts, when: Expr) -> Iterator[str]:
    """The inputs that a condition depends on, itself or by a part that they drive; the first it names first."""
    driven = {item.name: item.when for item in parts.driven}
    for leaf in atoms(when):
        if isinstance(leaf, Is) and leaf.name in driven:
            yield from (each.name for each in atoms(driven[leaf.name]) if isinstance(each, Is))
        elif isinstance(leaf, Is):
            yield leaf.name
