"""The all-state solver: settles a circuit in every combination of its inputs at once.

Logic only, by metallic joins; volts are another solver's work.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import product
from typing import TypeVar

from generator.catalogue.logic import Is, Joined, atoms
from generator.circuit.model import Circuit
from generator.findings.errors import HearthbookError
from generator.states.answer import Answer, Memory, Solution
from generator.states.network import (
    Bounds,
    Known,
    Network,
    Reach,
    contact_names,
    either,
    energised,
    evaluate,
    fold,
)
from generator.states.space import StateSpace

K = TypeVar("K")
MOST_INPUTS = 24
"""2^24 states fit in memory; more inputs are refused, never sampled."""
Pattern = tuple[bool, ...]
"""One value for each part with memory."""
MOST_MEMORY = 8
"""Parts with memory that are searched in every combination (2^8)."""


class TooManyStates(HearthbookError):
    """A circuit with more inputs, or more parts with memory, than can be solved in every state."""

    def __init__(self, count: int, most: int, what: str) -> None:
        super().__init__(count, most, what)
        self.count = count
        self.most = most
        self.what = what

    @property
    def message(self) -> str:
        """How many there are and how many can be solved."""
        return (
            f"this circuit has {self.count} {self.what}; every state can be solved up to {self.most}, "
            "and nothing was solved"
        )


def solve(
    circuit: Circuit,
    held: Mapping[str, bool] | None = None,
    *,
    unsure: bool = False,
) -> Solution:
    """Solve every state of a circuit.

    Three-valued iteration (Kleene) from *nothing known* settles every state whose result depends
    neither on history nor on which part moves first (ternary simulation: Eichelberger, "Hazard
    detection in combinational and sequential switching circuits", IBM Journal of Research and
    Development 9, 1965). In the states left over, every combination of the parts with memory is
    tried: those that reproduce themselves are settled results, and a state with none hunts.

    Args:
        circuit: the circuit.
        held: values of inputs that differ from their normal ones, or of calls that are to be held.
        unsure: what to take for a lever of unknown behaviour.

    Raises:
        TooManyStates: over `MOST_INPUTS` inputs, or over `MOST_MEMORY` parts with memory.

    Complexity: O(d * (contacts * groups)) operations on vectors of 2^n bits for d driven parts; what a round
        leaves unchanged is not worked out again.
    """
    return _Solver(circuit, dict(held or {}), unsure).run()


@dataclass(frozen=True, slots=True)
class _Joins:
    """What is joined and fed with one setting of the contacts."""

    line: Mapping[str, int]
    back: Mapping[str, int]
    fed: Mapping[str, int]
    joined: Mapping[tuple[str, str], int]


def _between(low: Mapping[K, int], high: Mapping[K, int]) -> dict[K, Bounds]:
    return {key: Bounds(vector, high[key]) for key, vector in low.items()}


class _Solver:
    def __init__(self, circuit: Circuit, held: dict[str, bool], unsure: bool) -> None:
        self.circuit = circuit
        self.network: Network = fold(circuit)
        fixed = {item.name: item.normal for item in circuit.inputs if item.normal is not None}
        self.held: dict[str, bool] = {**fixed, **held}
        free = tuple(item.name for item in circuit.called_inputs if item.name not in held)
        if len(free) > MOST_INPUTS:
            raise TooManyStates(len(free), MOST_INPUTS, "independent controls")
        self.space = StateSpace(free)
        self.all = self.space.everywhere
        self.reach = Reach(self.network, self.all)
        self.kept_made: dict[str, Bounds] = {}
        self.unsure_value = unsure
        self.unsure = Bounds(self.all, self.all) if unsure else Bounds(0, 0)
        self.inputs: dict[str, Bounds] = {}
        for item in circuit.inputs:
            vector = (
                (self.all if self.held[item.name] else 0)
                if item.name in self.held
                else self.space.where(item.name)
            )
            self.inputs[item.name] = Bounds(vector, vector)
        self.lines = tuple(supply.line for supply in circuit.supplies)
        self.pairs = [
            (leaf.a, leaf.b)
            for item in circuit.driven
            for leaf in atoms(item.when)
            if isinstance(leaf, Joined)
        ]
        self.backs = tuple(p for supply in circuit.supplies for p in (supply.neutral, supply.earth))

    def run(self) -> Solution:
        driven = self.ternary()
        open_at = 0
        for bounds in driven.values():
            open_at |= bounds.low ^ bounds.high
        if not open_at:
            values = {name: bounds.low for name, bounds in driven.items()}
            return self.solution(self.answer(values, self.all), (), 0)
        return self.with_memory(driven, open_at)

    def solution(self, settled: Answer, memories: tuple[Memory, ...], hunting: int) -> Solution:
        return Solution(
            circuit=self.circuit,
            space=self.space,
            held=self.held,
            unsure=self.unsure_value,
            settled=settled,
            memories=memories,
            hunting=hunting,
        )

    def made(self, values: Mapping[str, Bounds]) -> list[Bounds]:
        """When each contact is made; the very object of the last time where nothing changed."""
        known = Known(values=values, unsure=self.unsure, everywhere=self.all)
        made = []
        for contact in self.circuit.contacts:
            now, before = evaluate(contact.when, known), self.kept_made.get(contact.name)
            made.append(before if before is not None and before == now else now)
            self.kept_made[contact.name] = made[-1]
        return made

    def joined_to(self, points: tuple[str, ...], made: list[int]) -> dict[str, int]:
        """For each node the vector of states in which it is joined to any of the points."""
        return self.network.by_node(self.reach(points, made))

    def step(self, driven: Mapping[str, Bounds]) -> dict[str, Bounds]:
        """One round: contacts from driven parts, loads from contacts, driven parts from loads."""
        values = {**self.inputs, **driven}
        made = self.made(values)
        low = self.joins([bounds.low for bounds in made])
        exact = all(bounds.low is bounds.high or bounds.low == bounds.high for bounds in made)
        high = low if exact else self.joins([bounds.high for bounds in made])
        known = Known(
            values=values,
            unsure=self.unsure,
            everywhere=self.all,
            fed=_between(low.fed, high.fed),
            line=_between(low.line, high.line),
            back=_between(low.back, high.back),
            joined=_between(low.joined, high.joined),
        )
        return {item.name: evaluate(item.when, known) for item in self.circuit.driven}

    def joins(self, made: list[int]) -> _Joins:
        """What is joined and fed with these contacts."""
        line, back = self.joined_to(self.lines, made), self.joined_to(self.backs, made)
        return _Joins(
            line=line,
            back=back,
            fed={load.name: energised(load, line, back, self.all) for load in self.circuit.loads},
            joined={(a, b): self.joined_to((a,), made)[b] for a, b in self.pairs},
        )

    def ternary(self) -> dict[str, Bounds]:
        driven = {item.name: Bounds(0, self.all) for item in self.circuit.driven}
        while True:
            following = self.step(driven)
            if following == driven:
                return driven
            driven = following

    def answer(self, driven: Mapping[str, int], at: int) -> Answer:
        values = {
            **{name: bounds.low for name, bounds in self.inputs.items()},
            **driven,
        }
        bounds = {name: Bounds(vector, vector) for name, vector in values.items()}
        made = [item.low for item in self.made(bounds)]
        supplies = self.circuit.supplies
        by_group = {
            point: self.reach((point,), made)
            for supply in supplies
            for point in (supply.line, supply.neutral, supply.earth)
        }

        def together(points: Iterable[str]) -> list[int]:
            total = [0] * self.network.groups
            for point in points:
                total = [either(a, b) for a, b in zip(total, by_group[point], strict=True)]
            return total

        neutrals = together(supply.neutral for supply in supplies)
        earths = together(supply.earth for supply in supplies)
        backs = [either(a, b) for a, b in zip(neutrals, earths, strict=True)]
        line, back = self.network.by_node(together(self.lines)), self.network.by_node(backs)
        return Answer(
            at=at,
            joined={point: self.network.by_node(groups) for point, groups in by_group.items()},
            line=line,
            neutral=self.network.by_node(neutrals),
            earth=self.network.by_node(earths),
            fed={load.name: energised(load, line, back, self.all) for load in self.circuit.loads},
            on=dict(driven),
            made={contact.name: vector for contact, vector in zip(self.circuit.contacts, made, strict=True)},
        )

    def with_memory(self, driven: Mapping[str, Bounds], open_at: int) -> Solution:
        """Search the states that nothing-known left open."""
        movers = contact_names(self.circuit.contacts) | {
            leaf.name for item in self.circuit.driven for leaf in atoms(item.when) if isinstance(leaf, Is)
        }
        parts = [name for name, bounds in driven.items() if bounds.low != bounds.high and name in movers]
        if len(parts) > MOST_MEMORY:
            raise TooManyStates(len(parts), MOST_MEMORY, "parts with memory")
        patterns: list[Pattern] = list(product((False, True), repeat=len(parts)))
        settled_by = {start: self.followers(driven, parts, start, open_at) for start in patterns}
        moves = {start: self.ends(driven, parts, start, open_at) for start in patterns}
        return self.histories(driven, parts, open_at, settled_by, moves)

    def placed(
        self, driven: Mapping[str, Bounds], parts: list[str], start: Pattern, open_at: int
    ) -> dict[str, Bounds]:
        """Driven parts with those of ``parts`` set to ``start`` in the open states, the rest at their low."""
        result = {}
        for name, bounds in driven.items():
            vector = bounds.low
            if name in parts and start[parts.index(name)]:
                vector |= open_at & bounds.high
            result[name] = Bounds(vector, vector)
        return result

    def followers(
        self, driven: Mapping[str, Bounds], parts: list[str], start: Pattern, open_at: int
    ) -> dict[str, int]:
        """Every driven part when those with memory rest at ``start``."""
        current = self.placed(driven, parts, start, open_at)
        for _ in self.circuit.driven:
            following = self.step(current)
            current = {name: current[name] if name in parts else following[name] for name in following}
        return {name: bounds.low for name, bounds in current.items()}

    def ends(
        self, driven: Mapping[str, Bounds], parts: list[str], start: Pattern, open_at: int
    ) -> dict[Pattern, int]:
        """Where each open state comes to rest when it starts from ``start``; missing states never do."""
        current = self.placed(driven, parts, start, open_at)
        resting: dict[Pattern, int] = {}
        left = open_at
        for _ in range((1 << len(parts)) + 1):
            following = self.step(current)
            still = left
            for name in parts:
                still &= ~(current[name].low ^ following[name].low)
            still &= self.all
            if still:
                for pattern in product((False, True), repeat=len(parts)):
                    here = still
                    for name, value in zip(parts, pattern, strict=True):
                        here &= current[name].low if value else ~current[name].low
                    if here:
                        resting[pattern] = resting.get(pattern, 0) | here
                left &= ~still
            if not left:
                break
            current = following
        return resting

    def histories(
        self,
        driven: Mapping[str, Bounds],
        parts: list[str],
        open_at: int,
        settled_by: Mapping[Pattern, dict[str, int]],
        moves: Mapping[Pattern, Mapping[Pattern, int]],
    ) -> Solution:
        """Which settled results can be reached, from rest or by which change of an input."""
        closed = self.all & ~open_at
        known = {pattern: self.closed_with(driven, parts, pattern, closed) for pattern in moves}
        from_rest = moves[tuple(False for _ in parts)]
        why = self.reachable(known, dict(from_rest), moves, open_at)
        values = {name: bounds.low & closed for name, bounds in driven.items()}
        from_rest_at = 0
        for pattern, vector in from_rest.items():
            from_rest_at |= vector
            for name, on in settled_by[pattern].items():
                values[name] |= on & vector
        memories = []
        for pattern, vector, name in why:
            on = self.space.where(name)
            for was_on in (True, False):
                here = vector & (~on if was_on else on) & self.all
                if here:
                    full = {part: v & here for part, v in settled_by[pattern].items()}
                    memories.append(Memory(answer=self.answer(full, here), after=name, was_on=was_on))
        settled = self.answer(values, closed | from_rest_at)
        return self.solution(settled, tuple(memories), open_at & ~from_rest_at)

    def closed_with(
        self, driven: Mapping[str, Bounds], parts: list[str], pattern: Pattern, closed: int
    ) -> int:
        """The states without memory in which the parts have the values of the pattern."""
        here = closed
        for name, value in zip(parts, pattern, strict=True):
            here &= driven[name].low if value else ~driven[name].low
        return here

    def reachable(
        self,
        known: Mapping[Pattern, int],
        reached: dict[Pattern, int],
        moves: Mapping[Pattern, Mapping[Pattern, int]],
        open_at: int,
    ) -> list[tuple[Pattern, int, str]]:
        """Every settled result that a chain of single changes of inputs leads to, and the last change to each."""
        why: list[tuple[Pattern, int, str]] = []
        growing = True
        while growing:
            growing = False
            for name, start in product(self.space.inputs, moves):
                near = self.space.turned(known[start] | reached.get(start, 0), name) & open_at
                for end, vector in moves[start].items() if near else ():
                    new = near & vector & ~reached.get(end, 0)
                    if new:
                        reached[end] = reached.get(end, 0) | new
                        why.append((end, new, name))
                        growing = True
        return why
