"""What a lost neutral would read: a circuit solved with the core taken off on which most others depend.

Must not know what a wiring centre is for.
"""

from collections import deque
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from generator.circuit.model import Circuit, Conductor
from generator.states.volts import VoltsResult, solve_volts
from generator.states.volts_meter import Meter, incoming_neutral, readings


@dataclass(frozen=True, slots=True, kw_only=True)
class LostNeutral:
    """A conductor that carries the neutral of several loads, and what is found with it off.

    Attributes:
        conductor: the conductor.
        refs: the terminals that lose their neutral with it, in the circuit's order.
        volts: what the meter then shows at them to the incoming neutral; all of them are one point.
        result: the circuit solved without it.
    """

    conductor: Conductor
    refs: tuple[str, ...]
    volts: float
    result: VoltsResult


def shared_neutral(circuit: Circuit) -> tuple[Conductor, tuple[str, ...]] | None:
    """The conductor without which most loads, at least two, lose their neutral, and the terminals that lose it.

    Of equals the one nearest to the supply. None where there is none: a ring, or no load shares its neutral.
    """
    best: tuple[Conductor, tuple[str, ...]] | None = None
    most = 1
    for conductor in _outwards(circuit):
        lost = _neutral(circuit, None) - _neutral(circuit, conductor)
        loads = sum(load.a in lost or load.b in lost for load in circuit.loads)
        if loads > most:
            refs = tuple(place.ref for place in circuit.terminals if place.ref in lost)
            best, most = (conductor, refs), loads
    return best


def lost_neutral(circuit: Circuit, inputs: Mapping[str, bool], meter: Meter) -> LostNeutral | None:
    """The shared neutral taken off in one state of the inputs; None where there is no shared neutral."""
    found = shared_neutral(circuit)
    if found is None:
        return None
    conductor, refs = found
    without = replace(circuit, conductors=tuple(item for item in circuit.conductors if item is not conductor))
    result = solve_volts(without, inputs)
    shown = readings(without, result, meter, refs, to=incoming_neutral(without))
    return LostNeutral(conductor=conductor, refs=refs, volts=shown[refs[0]], result=result)


def _neighbours(circuit: Circuit, without: Conductor | None) -> dict[str, list[tuple[str, Conductor | None]]]:
    """What conductors, and contacts that nothing moves in use (the isolator is on), join each point to."""
    near: dict[str, list[tuple[str, Conductor | None]]] = {node: [] for node in circuit.nodes}
    for conductor in circuit.conductors:
        if conductor is not without:
            near[conductor.a].append((conductor.b, conductor))
            near[conductor.b].append((conductor.a, conductor))
    supplies = {supply.neutral for supply in circuit.supplies}
    for contact in circuit.contacts:
        if contact.a in supplies or contact.b in supplies:
            near[contact.a].append((contact.b, None))
            near[contact.b].append((contact.a, None))
    return near


def _walk(circuit: Circuit, without: Conductor | None) -> Iterator[tuple[str, Conductor | None]]:
    near = _neighbours(circuit, without)
    waiting: deque[tuple[str, Conductor | None]] = deque([(circuit.supplies[0].neutral, None)])
    found = {circuit.supplies[0].neutral}
    while waiting:
        here, by = waiting.popleft()
        yield here, by
        for there, conductor in near[here]:
            if there not in found:
                found.add(there)
                waiting.append((there, conductor))


def _neutral(circuit: Circuit, without: Conductor | None) -> set[str]:
    """The points on the incoming neutral."""
    return {node for node, _ in _walk(circuit, without)}


def _outwards(circuit: Circuit) -> Iterator[Conductor]:
    """The conductors of the incoming neutral, the nearest first."""
    if circuit.supplies:
        yield from (conductor for _, conductor in _walk(circuit, None) if conductor is not None)
