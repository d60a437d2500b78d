"""The circuit folded for the all-state solver: points joined by conductors become one, contacts join those.

Everything is by metal: loads join nothing. Knows nothing of volts.
"""

from collections import deque
from collections.abc import Iterable, Mapping, Sequence
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

    @property
    def groups(self) -> int:
        """How many groups there are."""
        return max(self.group.values(), default=-1) + 1

    def reach(self, starts: Iterable[str], made: Sequence[int], everywhere: int) -> tuple[int, ...]:
        """As `Reach`, once."""
        return Reach(self, everywhere)(tuple(starts), made)

    def by_node(self, by_group: Sequence[int]) -> dict[str, int]:
        """What holds for each group, said of each node."""
        return {node: by_group[group] for node, group in self.group.items()}


@dataclass(frozen=True, slots=True)
class _Found:
    """An answer of `Reach`: for these vectors of the contacts, these of the groups."""

    made: tuple[int, ...]
    reached: tuple[int, ...]


class Reach:
    """Finds in which states made contacts join each group to some points, and remembers what it found last.

    A vector takes up to 2 MiB, so that no operation is done twice: an answer is given again where no contact that
    bears on it has changed (compared by identity), and grown from where contacts are only made in more states.
    """

    _KEPT = 4

    def __init__(self, network: Network, everywhere: int) -> None:
        """Prepare.

        Args:
            network: the folded circuit.
            everywhere: the vector of all states; contacts always made should have this very object.
        """
        self._group = network.group
        self._everywhere = everywhere
        self._ends: list[list[tuple[int, int]]] = [[] for _ in range(network.groups)]
        self._edges = network.edges
        for a, b, contact in network.edges:
            self._ends[a].append((b, contact))
            self._ends[b].append((a, contact))
        self._found: dict[tuple[str, ...], list[_Found]] = {}

    def __call__(self, starts: tuple[str, ...], made: Sequence[int]) -> tuple[int, ...]:
        """For each group the vector of states in which it is joined to any of the starts.

        A fixed point of and/or on vectors, by a list of groups whose neighbours may still grow.

        Args:
            starts: the points.
            made: for each contact of the circuit the vector of states in which it is made.
        """
        kept = self._found.setdefault(starts, [])
        grown_from: tuple[_Found, list[int]] | None = None
        for found in kept:
            changed = [
                edge
                for edge, (a, b, contact) in enumerate(self._edges)
                if (found.reached[a] or found.reached[b]) and made[contact] is not found.made[contact]
            ]
            if not changed:
                return found.reached
            contacts = {self._edges[edge][2] for edge in changed}
            if grown_from is None and not any(found.made[at] & ~made[at] for at in contacts):
                grown_from = (found, changed)
        if grown_from is None:
            reached = [0] * len(self._ends)
            waiting = deque(dict.fromkeys(self._group[start] for start in starts))
            for first in waiting:
                reached[first] = self._everywhere
        else:
            found, changed = grown_from
            reached = list(found.reached)
            near = (group for edge in changed for group in self._edges[edge][:2] if reached[group])
            waiting = deque(dict.fromkeys(near))
        self._grow(reached, waiting, made)
        kept.insert(0, _Found(tuple(made), tuple(reached)))
        del kept[self._KEPT :]
        return kept[0].reached

    def _grow(self, reached: list[int], waiting: deque[int], made: Sequence[int]) -> None:
        everywhere = self._everywhere
        while waiting:
            here = waiting.popleft()
            for there, contact in self._ends[here]:
                before = reached[there]
                if before is everywhere or not made[contact]:
                    continue
                after = either(before, both(reached[here], made[contact], everywhere))
                if after is not before and after != before:
                    reached[there] = everywhere if after == everywhere else after
                    if there not in waiting:
                        waiting.append(there)


def both(a: int, b: int, everywhere: int) -> int:
    """``a & b``, done only where it has to be: 0 and ``everywhere`` itself cost nothing."""
    if a is everywhere or not b:
        return b
    return a if b is everywhere or not a else a & b


def either(a: int, b: int) -> int:
    """``a | b``, done only where neither is 0."""
    if not a:
        return b
    return a | b if b else a


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
    everywhere = known.everywhere
    match expr:
        case Not(inner):
            of = evaluate(inner, known)
            low = _outside(of.high, everywhere)
            return Bounds(low, low if of.low is of.high else _outside(of.low, everywhere))
        case All(parts):
            low = high = everywhere
            for part in parts:
                of = evaluate(part, known)
                exact = low is high and of.low is of.high
                low = both(low, of.low, everywhere)
                high = low if exact else both(high, of.high, everywhere)
            return Bounds(low, high)
        case Any(parts):
            low = high = 0
            for part in parts:
                of = evaluate(part, known)
                exact = low is high and of.low is of.high
                low = either(low, of.low)
                high = low if exact else either(high, of.high)
            return Bounds(low, high)
        case leaf:
            return _leaf(leaf, known)


def _outside(vector: int, everywhere: int) -> int:
    if not vector:
        return everywhere
    return 0 if vector is everywhere else everywhere ^ vector


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


def energised(load: Load, line: Mapping[str, int], back: Mapping[str, int], everywhere: int) -> int:
    """The vector of states in which a load has line on one side and neutral or earth on the other.

    With the object that stands for all states as ``everywhere`` it costs nothing where that is one of the two.
    """
    return either(
        both(line[load.a], back[load.b], everywhere),
        both(line[load.b], back[load.a], everywhere),
    )


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
