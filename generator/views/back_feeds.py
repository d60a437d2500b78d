"""Notes on points that read live from behind: through a thermostat's other contact, or through a motor."""

from collections.abc import Iterator, Sequence

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Contact, LoadKind
from generator.circuit.model import Circuit, PlacedDevice
from generator.states.answer import Answer, Solution
from generator.states.space import fewest_on
from generator.states.trace import path
from generator.states.volts_network import network_of
from generator.views.readings import StateReadings
from generator.views.wording import Naming, capital, listed, lower

_THERMOSTATS = (Duty.ROOM_THERMOSTAT, Duty.CYLINDER_THERMOSTAT)


def back_feeds(solution: Solution) -> Iterator[str]:
    """Outputs of timers that are live in some state although their own contacts are open."""
    for timer in solution.circuit.with_duty(Duty.TIMER):
        for ref, own in _outputs(timer).items():
            for answer in solution.answers:
                note = _fed_from_behind(solution, answer, ref, own)
                if note:
                    yield note
                    break


def _outputs(timer: PlacedDevice) -> dict[str, list[Contact]]:
    """The far ends of the timer's contacts, each with every contact that ends there."""
    ends: dict[str, list[Contact]] = {}
    for contact in timer.parts.contacts:
        ends.setdefault(contact.b, []).append(contact)
    return ends


def _fed_from_behind(solution: Solution, answer: Answer, ref: str, own: Sequence[Contact]) -> str:
    behind = answer.line[ref] & answer.at
    for contact in own:
        behind &= ~answer.made[contact.name]
    state = fewest_on(behind)
    if state is None:
        return ""
    circuit = solution.circuit
    steps = path(circuit, answer, state, [supply.line for supply in circuit.supplies], ref) or ()
    devices = {device.name: device for device in circuit.devices}
    by = {
        step.contact.name: devices[step.contact.name.split(".", 1)[0]]
        for step in steps
        if step.contact is not None
    }
    own_device = ref.split(".", 1)[0]
    passed = [
        device for device in by.values() if device.duty is not Duty.SUPPLY and device.name != own_device
    ]
    naming = Naming(circuit)
    what = f"{capital(naming.point(ref))} can read live with its own contact open"
    if not passed:
        return f"Back-feed: {what}, straight from the wiring."
    way = listed(list(dict.fromkeys(f"the {lower(device.words)}" for device in passed)))
    if all(device.duty in _THERMOSTATS for device in passed) and _resting(solution, passed, state):
        return (
            f"Back-feed through a satisfied thermostat: {what}, backwards through {way}: normal while it is satisfied "
            "and nothing else hangs on that terminal."
        )
    return f"Back-feed: {what}, through {way}; it follows from this wiring."


def _resting(solution: Solution, thermostats: Sequence[PlacedDevice], state: int) -> bool:
    """Whether one of the thermostats passed does not call in this state."""
    values = solution.inputs_in(state)
    return any(not any(values[item.name] for item in device.parts.inputs) for device in thermostats)


def through_loads(solution: Solution, read: Sequence[StateReadings]) -> Iterator[str]:
    """Points that reach line only through a load in a shown state."""
    naming = Naming(solution.circuit)
    for one in read:
        refs = [ref for ref, reading in one.by_terminal.items() if reading.word == "through a load"]
        if refs:
            values = [f"{naming.point(ref)} ({one.by_terminal[ref].shown} V)" for ref in refs]
            yield (
                f"Back-feed through {_kind(solution.circuit, one, refs)}: while {one.state.words}, {listed(values)} reach "
                "line only through a load: look for a lost neutral or a back-feed."
            )


def _kind(circuit: Circuit, one: StateReadings, refs: Sequence[str]) -> str:
    """``a motor`` where a motor ends at one of the points, else ``a load``."""
    network = network_of(circuit, one.volts.supply_v)
    is_closed = set(one.volts.closed)
    metal = network.metal(bytes(contact.name in is_closed for contact in circuit.contacts))
    nets = {metal[network.index[ref]] for ref in refs}
    kinds = {
        load.kind
        for load in circuit.loads
        if metal[network.index[load.a]] in nets or metal[network.index[load.b]] in nets
    }
    return "a motor" if kinds & {LoadKind.MOTOR, LoadKind.PUMP} else "a load"
