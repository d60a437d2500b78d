"""The circuit folded for the all-state solver: points joined by conductors become one, contacts join those.

Everything is by metal: loads join nothing. Knows nothing of volts.
"""

from collections import deque
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from generator.catalogue.logic import All, Any, Back, Expr, Fed, Is, Joined, Live, Not, Unsure
from generator.catalogue.parts import Contact, Load
from generator.circuit.model import Circuit


@dataclass(frozen=True, slots=True, kw_only=True)
class Network:
    """Groups of joined points and the contacts between them.

    ``group`` gives the group of every node; ``edges`` the two groups and the contact's number.
    """

    circuit: Circuit
    group: Mapping[str, int]
    edges: tuple[tuple[int, int, int], ...]

    def reach(self, starts: Iterable[str], made: list[int], everywhere: int) -> list[int]:
        """For each group the vector of states in which made contacts join it to any of the starts.

        A fixed point of and/or on vectors, by a list of groups whose neighbours may still grow.
        """
        count = max(self.group.values(), default=-1) + 1
        reached = [0] * count
        neighbours: list[list[tuple[int, int]]] = [[] for _ in range(count)]
        for a, b, contact in self.edges:
            if made[contact]:
                neighbours[a].append((b, contact))
                neighbours[b].append((a, contact))
        waiting = deque(dict.fromkeys(self.group[start] for start in starts))
        for first in waiting:
            reached[first] = everywhere
        queued = set(waiting)
        while waiting:
            here = waiting.popleft()
            queued.discard(here)
            for there, contact in neighbours[here]:
                grown = reached[there] | (reached[here] & made[contact])
                if grown != reached[there]:
                    reached[there] = grown
                    if there not in queued:
                        queued.add(there)
                        waiting.append(there)
        return reached


def fold(circuit: Circuit) -> Network:
    """Join every two points that a conductor or link joins.

    Complexity: near linear in terminals and conductors (disjoint sets with path halving).
    """
    parent = {node: node for node in circuit.nodes}

    def root(node: str) -> str:
        while parent[node] != node:
            parent[node] = parent[parent[node]]
            node = parent[node]
        return node

    for conductor in circuit.conductors:
        parent[root(conductor.b)] = root(conductor.a)
    numbers: dict[str, int] = {}
    group = {node: numbers.setdefault(root(node), len(numbers)) for node in circuit.nodes}
    edges = tuple(
        (group[contact.a], group[contact.b], index)
        for index, contact in enumerate(circuit.contacts)
        if group[contact.a] != group[contact.b]
    )
    return Network(circuit=circuit, group=group, edges=edges)


@dataclass(frozen=True, slots=True)
class Bounds:
    """A vector known between two limits: surely true in ``low``, possibly true in ``high``."""

    low: int
    high: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Known:
    """All that an expression may ask for, in every state at once.

    ``values`` are inputs and driven parts, ``fed`` loads, ``line`` and ``back`` points joined to a line, and
    to a neutral or an earth; ``joined`` pairs of points. ``unsure`` stands for `Unsure`, ``everywhere`` is the
    vector of all states.
    """

    values: Mapping[str, Bounds]
    unsure: Bounds
    everywhere: int
    fed: Mapping[str, Bounds] = field(default_factory=dict)
    line: Mapping[str, Bounds] = field(default_factory=dict)
    back: Mapping[str, Bounds] = field(default_factory=dict)
    joined: Mapping[tuple[str, str], Bounds] = field(default_factory=dict)


def evaluate(expr: Expr, known: Known) -> Bounds:
    """An expression with whole names in every state at once, in three-valued logic (Kleene)."""
    match expr:
        case Not(inner):
            of = evaluate(inner, known)
            return Bounds(known.everywhere & ~of.high, known.everywhere & ~of.low)
        case All(parts):
            low = high = known.everywhere
            for part in parts:
                of = evaluate(part, known)
                low, high = low & of.low, high & of.high
            return Bounds(low, high)
        case Any(parts):
            low = high = 0
            for part in parts:
                of = evaluate(part, known)
                low, high = low | of.low, high | of.high
            return Bounds(low, high)
        case leaf:
            return _leaf(leaf, known)


def _leaf(leaf: Is | Fed | Live | Back | Joined | Unsure, known: Known) -> Bounds:
    match leaf:
        case Is(name):
            return known.values[name]
        case Fed(load):
            return known.fed[load]
        case Live(point):
            return known.line[point]
        case Back(point):
            return known.back[point]
        case Joined(a, b):
            return known.joined[a, b]
        case Unsure():
            return known.unsure


def energised(load: Load, line: Mapping[str, int], back: Mapping[str, int]) -> int:
    """The vector of states in which a load has line on one side and neutral or earth on the other."""
    return (line[load.a] & back[load.b]) | (line[load.b] & back[load.a])


def contact_names(contacts: tuple[Contact, ...]) -> set[str]:
    """The names of every input and driven part that moves a contact."""
    names: set[str] = set()

    def walk(expr: Expr) -> None:
        match expr:
            case Is(name):
                names.add(name)
            case Not(inner):
                walk(inner)
            case All(parts) | Any(parts):
                for part in parts:
                    walk(part)
            case _:
                pass

    for contact in contacts:
        walk(contact.when)
    return names
