"""Which two conductors to swap so that two zones no longer work each other's valve.

Found by trying: the circuit is solved again with each plausible pair swapped. Knows zones and circuits, no rule.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import product

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Is
from generator.circuit.model import Circuit, Conductor, ZoneIntent
from generator.rules.behaviour import call, can_open, conductors_at, opened
from generator.rules.rule import Subject
from generator.rules.words import terminal_of
from generator.states.solve import solve


@dataclass(frozen=True, slots=True, kw_only=True)
class Crossing:
    """Two zones that work each other's valve, and the pairs of conductors of which one swap cures it."""

    first: ZoneIntent
    second: ZoneIntent
    swaps: tuple[tuple[Conductor, Conductor], ...]


def crossings(subject: Subject) -> tuple[Crossing, ...]:
    """Every pair of zones that one swap of two conductors puts right.

    Complexity: one solution for each pair of control conductors of each pair of zones that are wrong.
    """
    wrong = [zone for zone in subject.circuit.zones if _astray(subject, zone)]
    found = []
    for index, first in enumerate(wrong):
        for second in wrong[index + 1 :]:
            if first.valve and first.valve == second.valve:
                continue
            pairs: dict[frozenset[int], tuple[Conductor, Conductor]] = {}
            for one, other in product(_controls(subject.circuit, first), _controls(subject.circuit, second)):
                if one is not other:
                    pairs.setdefault(frozenset((one.index, other.index)), (one, other))
            swaps = tuple(pair for pair in pairs.values() if _cures(subject, *pair, (first, second)))
            if swaps:
                found.append(Crossing(first=first, second=second, swaps=_alike_first(swaps)))
    return tuple(found)


def crossed_zones(subject: Subject) -> frozenset[str]:
    """The names of the zones that are crossed."""
    return frozenset(
        name for crossing in subject.once(crossings) for name in (crossing.first.name, crossing.second.name)
    )


def crossed_ways(subject: Subject) -> frozenset[str]:
    """The parts that let water to the zones that are crossed."""
    names = crossed_zones(subject)
    return frozenset(zone.opens for zone in subject.circuit.zones if zone.name in names)


def _astray(subject: Subject, zone: ZoneIntent) -> bool:
    """Whether a zone's way is shut in some state with a call."""
    if not zone.call_inputs or not can_open(subject, zone.opens):
        return False
    calling = call(subject, zone)
    return bool(subject.ever(lambda answer: calling & ~opened(answer, zone.opens)))


def _controls(circuit: Circuit, zone: ZoneIntent) -> Iterator[Conductor]:
    """The conductors that carry a zone's call: at its channel's output, its thermostat and its valve's motor."""
    refs: list[str] = []
    if zone.channel:
        refs += [item.b for item in circuit.contacts if item.when == Is(zone.channel)]
    for device in (zone.thermostat, zone.valve or zone.pump):
        if not device:
            continue
        placed = circuit.device(device)
        if placed.duty in (Duty.VALVE, Duty.PUMP):
            refs += [load.a for load in placed.parts.loads]
        else:
            refs += [end for item in placed.parts.contacts for end in (item.a, item.b)]
    seen: set[int] = set()
    for ref in dict.fromkeys(refs):
        for conductor in conductors_at(circuit, ref):
            if not conductor.is_link and conductor.index not in seen:
                seen.add(conductor.index)
                yield conductor


def _cures(subject: Subject, one: Conductor, other: Conductor, zones: tuple[ZoneIntent, ...]) -> bool:
    """Whether the zones' valves follow their own calls in every state once the two are swapped."""
    solution = solve(_swapped(subject.circuit, one, other))
    if solution.hunting or solution.memories:
        return False
    return all(opened(solution.settled, zone.opens) == call(subject, zone) for zone in zones)


def _swapped(circuit: Circuit, one: Conductor, other: Conductor) -> Circuit:
    """The circuit with the second ends of two conductors exchanged."""
    ends = {one.index: replace(one, b=other.b), other.index: replace(other, b=one.b)}
    return replace(circuit, conductors=tuple(ends.get(item.index, item) for item in circuit.conductors))


def _alike_first(swaps: tuple[tuple[Conductor, Conductor], ...]) -> tuple[tuple[Conductor, Conductor], ...]:
    """Pairs that end at terminals of one name first: those are the ones that get crossed."""
    return tuple(sorted(swaps, key=lambda pair: terminal_of(pair[0].a) != terminal_of(pair[1].a)))
