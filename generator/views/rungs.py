"""By which contacts a net is fed, as a series and parallel arrangement, derived from the solved circuit.

For a net that some state makes live: the simple paths by contacts from the permanent live to it that some state
really makes, as few of them as feed it in every state in which it is fed.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from generator.circuit.model import Circuit
from generator.states.answer import Answer
from generator.states.network import Network, fold

MOST_PATHS = 400
"""Paths to one net that are looked at; what is left out is not drawn, and the drawing says so."""


@dataclass(frozen=True, slots=True)
class Passed:
    """A contact passed on the way from the live side: its number, where it is entered and left."""

    contact: int
    start: str
    to: str


Way = tuple[Passed, ...]
"""Contacts in order from the left rail."""


@dataclass(frozen=True, slots=True)
class Beside:
    """Ways beside each other."""

    ways: tuple[tuple["Passed | Beside", ...], ...]


Chain = tuple[Passed | Beside, ...]


class Feeds:
    """Finds how nets of one solved circuit are fed. ``left_out`` becomes true once a net has too many ways."""

    def __init__(self, circuit: Circuit, answers: Sequence[Answer]) -> None:
        self.circuit = circuit
        self.answers = answers
        self.network: Network = fold(circuit)
        self.made = [
            [answer.made[contact.name] & answer.at for contact in circuit.contacts] for answer in answers
        ]
        self.left_out = False
        self.edges: dict[int, list[tuple[int, Passed]]] = {}
        for a, b, index in self.network.edges:
            contact = circuit.contacts[index]
            self.edges.setdefault(b, []).append((a, Passed(index, contact.a, contact.b)))
            self.edges.setdefault(a, []).append((b, Passed(index, contact.b, contact.a)))

    def net(self, point: str) -> int:
        """The number of the net that a point belongs to."""
        return self.network.group[point]

    def always(self, where: Callable[[Answer, str], int]) -> frozenset[int]:
        """The nets that are so in every state of every answer.

        Args:
            where: the vector of the states of an answer in which a point is so.
        """
        first: dict[int, str] = {}
        for node, group in self.network.group.items():
            first.setdefault(group, node)
        return frozenset(
            group
            for group, node in first.items()
            if all(not answer.at & ~where(answer, node) for answer in self.answers)
        )

    def one_with(self, net: int) -> frozenset[int]:
        """The nets that contacts join to a net in every state of every answer, with it."""
        found, waiting = {net}, [net]
        while waiting:
            for other, passed in self.edges.get(waiting.pop(), ()):
                shut = all(
                    made[passed.contact] == answer.at
                    for made, answer in zip(self.made, self.answers, strict=True)
                )
                if shut and other not in found:
                    found.add(other)
                    waiting.append(other)
        return frozenset(found)

    def ways(self, net: int, sources: frozenset[int], without: frozenset[int] = frozenset()) -> list[Way]:
        """The ways to a net from any of the sources, shortest first; ``without`` are contacts not to be passed.

        None is kept that feeds it in no state in which the shorter ones do not. Empty where nothing feeds it.
        """
        found: list[tuple[Way, tuple[int, ...]]] = []
        full = tuple(answer.at for answer in self.answers)

        def walk(here: int, way: Way, seen: frozenset[int], vectors: tuple[int, ...]) -> None:
            if len(found) >= MOST_PATHS:
                self.left_out = True
                return
            if here in sources:
                found.append((way, vectors))
                return
            for before, passed in self.edges.get(here, ()):
                if before in seen or passed.contact in without:
                    continue
                narrowed = tuple(
                    vector & made[passed.contact] for vector, made in zip(vectors, self.made, strict=True)
                )
                if any(narrowed):
                    walk(before, (passed, *way), seen | {before}, narrowed)

        walk(net, (), frozenset({net}), full)
        covered = [0] * len(self.answers)
        kept: list[tuple[int, Way]] = []
        for place, (way, vectors) in sorted(enumerate(found), key=lambda item: (len(item[1][0]), item[0])):
            if any(vector & ~done for vector, done in zip(vectors, covered, strict=True)):
                covered = [done | vector for vector, done in zip(vectors, covered, strict=True)]
                kept.append((place, way))
        return [way for _, way in sorted(kept, key=lambda item: item[0])]


def arranged(ways: Sequence[Way]) -> Chain:
    """Ways as one series with parallel parts: what they begin and end with alike is drawn once."""
    if not ways or not all(ways):
        return ()
    if len(ways) == 1:
        return tuple(ways[0])
    start = _alike(ways)
    if start == min(map(len, ways)):
        return tuple(ways[0][:start])
    rest = [way[start:] for way in ways]
    end = min(_alike([way[::-1] for way in rest]), min(map(len, rest)) - 1)
    middle = [way[: len(way) - end] for way in rest]
    groups: dict[Passed, list[Way]] = {}
    for way in middle:
        groups.setdefault(way[0], []).append(way)
    parallel = Beside(tuple(arranged(group) for group in groups.values()))
    tail = rest[0][len(rest[0]) - end :] if end else ()
    return (*ways[0][:start], parallel, *tail)


def _alike(ways: Sequence[Way]) -> int:
    """How many contacts all ways begin with alike."""
    count = 0
    for column in zip(*ways, strict=False):
        if any(passed != column[0] for passed in column):
            break
        count += 1
    return count


def contacts_in(chain: Iterable[Passed | Beside]) -> list[Passed]:
    """Every contact of a chain, left to right and top to bottom."""
    found: list[Passed] = []
    for part in chain:
        if isinstance(part, Passed):
            found.append(part)
        else:
            for way in part.ways:
                found += contacts_in(way)
    return found
