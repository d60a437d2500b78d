"""Tells whether a mistake in the wiring matters, apart from every rule: by joins, by states and by readings.

A mistake matters when, in any state, any reading to line, neutral or earth at a terminal of a device, any load, any
protective path or what any part does is not as it was. Knows the solver and the volts solver; no rule.
"""

from dataclasses import dataclass
from enum import StrEnum

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Fed, Live, atoms
from generator.catalogue.parts import Role
from generator.circuit.model import Circuit, TerminalPlace
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_earth, incoming_neutral, readings

Joins = frozenset[frozenset[str]]


class Verdict(StrEnum):
    """Why a mistake matters, or the proof that it does not."""

    SAME_NETS = "the same terminals are joined as before"
    TURNED_CONTACT = "the same, but for a contact that works alike either way round"
    SAME_READINGS = "every reading, load and part is as before in every state"
    READINGS_ONLY = "readings differ; what runs, and every protective path, is as before"
    MATTERS = "what runs, or a protective path, differs"
    SHORT = "line meets neutral or earth"


MATTERING = (Verdict.READINGS_ONLY, Verdict.MATTERS, Verdict.SHORT)


@dataclass(frozen=True, eq=False, slots=True)
class Oracle:
    """The sound house, against which mistakes are held."""

    circuit: Circuit
    sound: Solution

    def verdict(self, after: Circuit, solution: Solution | None = None) -> Verdict:
        """Whether a mistake matters, and why."""
        before, now = joins(self.circuit), joins(after)
        if now == before:
            return Verdict.SAME_NETS
        if any(turned(now, *sides) == before for sides in symmetric_contacts(self.circuit)):
            return Verdict.TURNED_CONTACT
        solution = solution or solve(after)
        if _short(solution):
            return Verdict.SHORT
        if _behaviour(solution) != _behaviour(self.sound):
            return Verdict.MATTERS
        if _joined(solution) != _joined(self.sound):
            return Verdict.READINGS_ONLY
        return Verdict.SAME_READINGS if _volts(solution) == _volts(self.sound) else Verdict.READINGS_ONLY


def oracle_for(circuit: Circuit) -> Oracle:
    """The oracle of a sound house."""
    return Oracle(circuit, solve(circuit))


def joins(circuit: Circuit) -> Joins:
    """Which terminals of devices conductors join; wiring centres count as what they join only."""
    boss = {ref: ref for ref in circuit.nodes}

    def find(ref: str) -> str:
        while boss[ref] != ref:
            ref = boss[ref]
        return ref

    for item in circuit.conductors:
        boss[find(item.a)] = find(item.b)
    nets: dict[str, set[str]] = {}
    for place in circuit.terminals:
        if _is_read(place):
            nets.setdefault(find(place.ref), set()).add(place.ref)
    return frozenset(frozenset(net) for net in nets.values())


def turned(nets: Joins, a: str, b: str) -> Joins:
    """The same with the two sides of a contact called each other."""
    swap = {a: b, b: a}
    return frozenset(frozenset(swap.get(ref, ref) for ref in net) for net in nets)


def symmetric_contacts(circuit: Circuit) -> tuple[tuple[str, str], ...]:
    """The two terminals of each contact that nothing else inside its device touches: it does not know which is which."""
    used: dict[str, int] = {}
    for item in circuit.contacts:
        for ref in (item.a, item.b):
            used[ref] = used.get(ref, 0) + 1
    watched: set[str] = set()
    for driven in circuit.driven:
        for leaf in atoms(driven.when):
            watched |= {leaf.point} if isinstance(leaf, Live) else set()
            watched |= {leaf.load} if isinstance(leaf, Fed) else set()
    for load in circuit.loads:
        used |= dict.fromkeys((load.a, load.b), 9)
    for sense in circuit.senses:
        used |= dict.fromkeys((sense.a, sense.b), 9)
    for supply in circuit.supplies:
        used |= dict.fromkeys((supply.line, supply.neutral, supply.earth), 9)
    for diode in circuit.diodes:
        used |= dict.fromkeys((diode.anode, diode.cathode), 9)
    outside = {place.ref for place in circuit.terminals}
    return tuple(
        (item.a, item.b)
        for item in circuit.contacts
        if used[item.a] == used[item.b] == 1
        and {item.a, item.b} <= outside
        and not {item.a, item.b} & watched
    )


def _short(solution: Solution) -> bool:
    return any(
        answer.joined[supply.line][other] & answer.at
        for answer in solution.answers
        for supply in solution.circuit.supplies
        for each in solution.circuit.supplies
        for other in (each.neutral, each.earth)
    )


def _behaviour(solution: Solution) -> object:
    """What runs, and what is joined to earth, in every state."""
    earths = [
        place.ref
        for place in solution.circuit.terminals
        if place.terminal.role is Role.EARTH and place.device.duty is not Duty.CENTRE
    ]
    return [
        (
            answer.at,
            [vector & answer.at for vector in answer.on.values()],
            [vector & answer.at for vector in answer.fed.values()],
            [answer.earth[ref] & answer.at for ref in earths],
            [answer.neutral[ref] & answer.at for ref in earths],
        )
        for answer in solution.answers
    ] + [solution.hunting]


def _joined(solution: Solution) -> object:
    """What each terminal of a device is joined to, in every state."""
    refs = [place.ref for place in solution.circuit.terminals if _is_read(place)]
    return [
        [
            [vectors[ref] & answer.at for ref in refs]
            for vectors in (answer.line, answer.neutral, answer.earth)
        ]
        for answer in solution.answers
    ]


def _volts(solution: Solution) -> object:
    """What a meter shows at each terminal of a device to neutral and to earth, in every state, in whole volts."""
    circuit = solution.circuit
    refs = [place.ref for place in circuit.terminals if _is_read(place)]
    found = []
    for state in range(solution.space.size):
        volts = solve_volts(circuit, solution.inputs_in(state))
        for to in (incoming_neutral(circuit), incoming_earth(circuit)):
            shown = readings(circuit, volts, HIGH_IMPEDANCE, refs, to=to)
            found.append([round(value) for value in shown.values()])
    return found


def _is_read(place: TerminalPlace) -> bool:
    return place.device.duty is not Duty.CENTRE or place.terminal.role is Role.EARTH
