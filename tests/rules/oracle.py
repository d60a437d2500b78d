"""Tells whether a mistake in the wiring matters, apart from every rule: by joins, by states and by readings.

A mistake matters when, in any state, any reading to line, neutral or earth at a terminal of a device, any load, any
protective path or what any part does is not as it was. Knows the solver and the volts solver; no rule.
"""

from collections.abc import Collection, Iterator
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
DROP_V = 1.0
"""Volts that a reading may change by when current only takes another way through cores of the same house."""


class Verdict(StrEnum):
    """Why a mistake matters, or the proof that it does not."""

    SAME_NETS = "the same terminals are joined as before"
    TURNED_CONTACT = "the same, but for a contact that works alike either way round"
    SAME_READINGS = (
        "every reading, load and part is as before in every state, and with each lever and isolator moved"
    )
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
        if self.turned_sides(after):
            return Verdict.TURNED_CONTACT
        solution = solution or solve(after)
        if _short(solution):
            return Verdict.SHORT
        if _behaviour(solution) != _behaviour(self.sound):
            return Verdict.MATTERS
        if _joined(solution) != _joined(self.sound) or not _volts_alike(solution, self.sound):
            return Verdict.READINGS_ONLY
        return Verdict.SAME_READINGS if self._alike_when_moved(after) else Verdict.MATTERS

    def turned_sides(self, after: Circuit) -> tuple[str, ...]:
        """The two sides of the contact that a mistake only turns round; empty where it does anything else."""
        before, now = joins(self.circuit), joins(after)
        return next(
            (each for each in symmetric_contacts(self.circuit) if turned(now, *each) == before != now), ()
        )

    def _alike_when_moved(self, after: Circuit) -> bool:
        """Whether all is the same too with each isolator, lever and cut-out moved, one at a time."""
        for item in self.circuit.inputs:
            for unsure in (False, True) if item.normal is not None else ():
                held = {item.name: not item.normal}
                both = [solve(each, held, unsure=unsure) for each in (self.circuit, after)]
                if not alike(*both):
                    return False
        return True

    def proof(self, after: Circuit, verdict: Verdict) -> str:
        """Why a mistake does not matter, with what shows it."""
        if verdict is Verdict.TURNED_CONTACT:
            sides = self.turned_sides(after)
            return f"{verdict}: that between {sides[0]} and {sides[1]}"
        if verdict is Verdict.SAME_READINGS:
            return f"{verdict} ({self.sound.space.size} states)"
        return str(verdict)


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


def alike(before: Solution, after: Solution, *, but: Collection[str] = ()) -> bool:
    """Whether what runs, what every terminal is joined to and what a meter shows is the same, but for some terminals."""
    return (
        _behaviour(before) == _behaviour(after)
        and _joined(before, but) == _joined(after, but)
        and _volts_alike(before, after, but)
    )


def _volts_alike(before: Solution, after: Solution, but: Collection[str] = ()) -> bool:
    """Whether no reading differs by more than what another way through the same conductors drops."""
    return all(
        abs(one - other) <= DROP_V for one, other in zip(_volts(before, but), _volts(after, but), strict=True)
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
    """What runs, and to which point of which supply each earth terminal is joined, in every state."""
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
            [vectors[ref] & answer.at for vectors in answer.joined.values() for ref in earths],
        )
        for answer in solution.answers
    ] + [solution.hunting]


def _joined(solution: Solution, but: Collection[str] = ()) -> object:
    """To which point of which supply each terminal of a device is joined, in every state."""
    refs = [place.ref for place in solution.circuit.terminals if _is_read(place) and place.ref not in but]
    return [
        [[vectors[ref] & answer.at for ref in refs] for vectors in answer.joined.values()]
        for answer in solution.answers
    ]


def _volts(solution: Solution, but: Collection[str] = ()) -> Iterator[float]:
    """What a meter shows at each terminal of a device to line, neutral and earth, in every state."""
    circuit = solution.circuit
    refs = [place.ref for place in circuit.terminals if _is_read(place) and place.ref not in but]
    for state in range(solution.space.size):
        volts = solve_volts(circuit, solution.inputs_in(state))
        for to in (circuit.supplies[0].line, incoming_neutral(circuit), incoming_earth(circuit)):
            yield from readings(circuit, volts, HIGH_IMPEDANCE, refs, to=to).values()


def _is_read(place: TerminalPlace) -> bool:
    return place.device.duty is not Duty.CENTRE or place.terminal.role is Role.EARTH
