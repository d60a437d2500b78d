"""Joins that must not be: two points of supplies joined by metal, by which path, and which conductor is to blame.

Knows paths and roles of terminals; which join is how bad is decided by rules.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from statistics import mode

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind, Role, Supply
from generator.circuit.model import Circuit, Conductor
from generator.rules.behaviour import conductors_at, way_between
from generator.rules.rule import Subject
from generator.rules.states_in_words import state_in_words, states_in_words
from generator.rules.words import device_of, the_device, way
from generator.states.answer import Answer, Solution
from generator.states.network import fold
from generator.states.space import fewest_on
from generator.states.trace import Step

_LINE_ROLES = (Role.PERMANENT_LINE, Role.SWITCHED_LINE, Role.OUTPUT, Role.CONTACT)


@dataclass(frozen=True, slots=True, kw_only=True)
class Join:
    """Two points joined in some states: the path in the simplest of them, and when in words."""

    steps: tuple[Step, ...]
    blamed: Conductor | None
    holds: str
    example: str = ""


def joins(subject: Subject, pairs: Callable[[Supply, Supply], tuple[str, str]]) -> Iterator[Join]:
    """Joins between points of the supplies, in every state and with every lever, cut-out and overrun moved.

    A scenario is looked at only where the normal states show no join of that pair.

    Args:
        subject: the property.
        pairs: for two supplies, perhaps the same one, the two points that must not be joined.
    """
    supplies = subject.circuit.supplies
    for first in supplies:
        for second in supplies:
            start, end = pairs(first, second)
            if end not in conceivable(subject.circuit, start):
                continue
            join = _normal(subject, start, end) or next(_moved(subject, start, end), None)
            if join is not None:
                yield join


def conceivable(circuit: Circuit, point: str) -> frozenset[str]:
    """Every node that would be joined to a point with every contact made at once; no state joins any other."""
    network = fold(circuit)
    reached = network.reach([point], [1] * len(circuit.contacts), 1)
    return frozenset(node for node, group in network.group.items() if reached[group])


def _joined(start: str, end: str) -> Callable[[Answer], int]:
    return lambda answer: answer.joined[start][end] & answer.at


def _normal(subject: Subject, start: str, end: str) -> Join | None:
    solution = subject.solution
    total = 0
    found: tuple[Answer, int] | None = None
    for answer in solution.answers:
        vector = _joined(start, end)(answer)
        total |= vector
        if vector and found is None:
            found = (answer, vector)
    if found is None:
        return None
    return _join(subject, *found, start, end, _words(subject, solution, total))


def _moved(subject: Subject, start: str, end: str) -> Iterator[Join]:
    for item in subject.circuit.inputs:
        if item.normal is None or item.kind is InputKind.ISOLATOR:
            continue
        # A lever of unknown behaviour is taken both ways: what may be joined is told.
        both = [subject.scenario(item.name, not item.normal, unsure=unsure) for unsure in (False, True)]
        for solution, answer in ((each, answer) for each in both for answer in each.answers):
            vector = _joined(start, end)(answer)
            if vector:
                state = item.off_words if item.normal else item.on_words
                device = the_device(device_of(subject.circuit, item.name))
                holds = f"with the {item.words} of {device} {state}, {_words(subject, solution, vector)}"
                yield _join(subject, answer, vector, start, end, holds)


def _words(subject: Subject, solution: Solution, vector: int) -> str:
    return states_in_words(vector, solution.space, subject.circuit).text


def _join(subject: Subject, answer: Answer, vector: int, start: str, end: str, holds: str) -> Join:
    steps = way_between(subject, answer, vector, start, end)
    return Join(
        steps=steps,
        blamed=to_blame(subject.circuit, steps),
        holds=holds,
        example=_followed(subject, vector, steps, holds),
    )


def _followed(subject: Subject, vector: int, steps: tuple[Step, ...], holds: str) -> str:
    """One state, and how to follow the path: where points of the supply meet nothing can be read with the supply on."""
    state = fewest_on(vector)
    outside = [ref for step in steps for ref in (step.start, step.to) if ref not in subject.circuit.inner]
    if state is None or not outside:
        return ""
    moved = f"{holds.split(',', 1)[0]}, " if holds.startswith("with the ") else ""
    words = state_in_words(state, subject.solution.space, subject.circuit)
    return (
        f"{moved}{words}: {way(subject.circuit, steps)}; with the supply off and proved dead, and every contact "
        f"on that path held made, an ohmmeter shows a join between `{outside[0]}` and `{outside[-1]}`"
    )


def lines_joined(answer: Answer, circuit: Circuit) -> int:
    """The states in which the lines of two supplies are joined, so that nobody can say which of them feeds what."""
    vector = 0
    for index, first in enumerate(circuit.supplies):
        for second in circuit.supplies[index + 1 :]:
            vector |= answer.joined[first.line][second.line]
    return vector


def to_blame(circuit: Circuit, steps: tuple[Step, ...]) -> Conductor | None:
    """The conductor of a path that least fits where it lands; the last one when all fit alike.

    A conductor is held against the others in its terminal of the wiring centre: one line among six
    neutrals is out of place.
    """
    conductors = [step.conductor for step in steps if step.conductor is not None]
    worst: Conductor | None = conductors[-1] if conductors else None
    most = 0
    for conductor in conductors:
        for near, far in ((conductor.a, conductor.b), (conductor.b, conductor.a)):
            mine = _sort_beyond(circuit, conductor, far)
            others = [
                _sort_beyond(circuit, item, item.b if item.a == near else item.a)
                for item in conductors_at(circuit, near)
                if item is not conductor
            ]
            astray = sum(1 for other in others if other and mine and other != mine)
            alike = sum(1 for other in others if other == mine)
            if astray - alike > most:
                most, worst = astray - alike, conductor
    return worst


def _sort_beyond(circuit: Circuit, conductor: Conductor, far: str) -> str:
    """The sort of terminal a conductor leads to; at another wiring centre, what most there lead to."""
    sort = sort_of(circuit, far)
    if sort:
        return sort
    beyond = [
        found
        for item in conductors_at(circuit, far)
        if item is not conductor and (found := sort_of(circuit, item.b if item.a == far else item.a))
    ]
    return mode(beyond) if beyond else ""


def sort_of(circuit: Circuit, ref: str) -> str:
    """``line``, ``neutral`` or ``earth`` by the role of a terminal; empty at a wiring centre."""
    place = next((item for item in circuit.terminals if item.ref == ref), None)
    if place is None or place.device.duty is Duty.CENTRE:
        return ""
    if place.terminal.role in _LINE_ROLES:
        return "line"
    return "neutral" if place.terminal.role is Role.NEUTRAL else "earth"
