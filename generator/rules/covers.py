"""The shortest exact description of a set of states as alternatives of conditions that hold together.

Knows vectors and conditions with a cost only: neither circuits nor words.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations

MOST_TOGETHER = 4
"""Conditions joined by *and* in one alternative."""
MOST_TERMS = 3
"""Alternatives joined by *or*."""
_TERM_COST = 2
_MOST_TRIED = 60
"""Alternatives of which every pair and triple is tried; of more, only the cheapest."""


@dataclass(frozen=True, slots=True)
class Condition:
    """Something that is so in the states of ``vector``; ``cost`` is how long it takes to say.

    Conditions of one ``about`` exclude one another and are never joined.
    """

    name: str
    about: str
    vector: int
    cost: int


@dataclass(frozen=True, slots=True)
class Term:
    """Conditions that hold together, and the states in which they do."""

    conditions: tuple[Condition, ...]
    vector: int

    @property
    def cost(self) -> int:
        """How long it takes to say."""
        return _TERM_COST + sum(condition.cost for condition in self.conditions)


def shortest_cover(target: int, conditions: Sequence[Condition], everywhere: int) -> tuple[Term, ...] | None:
    """The cheapest alternatives that together hold in exactly the states of ``target``.

    Every term lies within the target and no condition can be left out of it (a prime implicant over the
    given conditions; Quine, "The problem of simplifying truth functions", American Mathematical Monthly 59,
    1952). One to `MOST_TERMS` of them are tried in every combination.

    Args:
        target: not empty.
        conditions: in the order in which equally cheap ones are preferred.
        everywhere: the vector of all states.

    Returns:
        None where no `MOST_TERMS` terms cover the target.

    Complexity: c^`MOST_TOGETHER` vector operations for c conditions, then `_MOST_TRIED`^`MOST_TERMS`.
    """
    terms = _terms(target, conditions, everywhere)
    best: tuple[Term, ...] | None = None
    best_cost = 0
    for count in range(1, MOST_TERMS + 1):
        for chosen in combinations(terms, count):
            cost = sum(term.cost for term in chosen)
            if best is not None and cost >= best_cost:
                continue
            covered = 0
            for term in chosen:
                covered |= term.vector
            if covered == target:
                best, best_cost = chosen, cost
    return best


def _terms(target: int, conditions: Sequence[Condition], everywhere: int) -> list[Term]:
    """The cheapest prime term for each set of states that a term can hold in, cheapest first."""
    found: dict[int, Term] = {}
    for conjunction in _conjunctions(target, conditions, everywhere):
        known = found.get(conjunction.vector)
        if known is None or conjunction.cost < known.cost:
            found[conjunction.vector] = conjunction
    cheapest = sorted(found.values(), key=lambda term: term.cost)
    kept: list[Term] = []
    for term in cheapest:
        # A term inside a cheaper one covers nothing more.
        if not any(term.vector & ~other.vector == 0 for other in kept):
            kept.append(term)
    return kept[:_MOST_TRIED]


def _conjunctions(target: int, conditions: Sequence[Condition], everywhere: int) -> Iterator[Term]:
    """Conjunctions that hold only inside the target and would not, were any condition left out."""
    open_ones: list[tuple[tuple[int, ...], int]] = [((), everywhere)]
    for _ in range(MOST_TOGETHER):
        following = []
        for chosen, vector in open_ones:
            about = {conditions[index].about for index in chosen}
            for index in range(chosen[-1] + 1 if chosen else 0, len(conditions)):
                condition = conditions[index]
                narrowed = vector & condition.vector
                if condition.about in about or not narrowed & target or narrowed == vector:
                    continue
                if narrowed & ~target:
                    following.append(((*chosen, index), narrowed))
                else:
                    yield Term(tuple(conditions[i] for i in (*chosen, index)), narrowed)
        open_ones = following
