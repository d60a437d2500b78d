"""The all-state solver: settles a circuit in every combination of its inputs at once.

Logic only, by metallic joins; volts are another solver's work.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from itertools import product

from generator.catalogue.logic import Is, atoms
from generator.circuit.model import Circuit
from generator.findings.errors import HearthbookError
from generator.states.answer import Answer, Memory, Solution
from generator.states.memory import Pattern, Searched, search
from generator.states.network import Bounds, Network, contact_names, either, energised, fold
from generator.states.space import StateSpace
from generator.states.step import Stepper

MOST_INPUTS = 24
"""2^24 states fit in memory; more inputs are refused, never sampled."""
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Cases:
    """Variants of one circuit that are solved side by side, each in every state.

    A name in ``on`` may stand in any `Is` of the circuit; it is on in these cases, whatever the inputs. Case ``c`` takes
    the block of ``2**n`` bits from ``c * 2**n``, n being the inputs that are solved.
    """

    count: int
    on: Mapping[str, Collection[int]]

    @property
    def bits(self) -> int:
        """How many further inputs number the cases."""
        return (self.count - 1).bit_length()

    def where(self, name: str, block: int) -> int:
        """The vector of the states of the cases in which a name is on; ``block`` states a case."""
        ones = (1 << block) - 1
        if block % 8 == 0:
            width = block // 8
            full, whole = ones.to_bytes(width, "little"), bytearray(self.count * width)
            for case in self.on[name]:
                whole[case * width : (case + 1) * width] = full
            return int.from_bytes(whole, "little")
        vector = 0
        for case in self.on[name]:
            vector |= ones << case * block
        return vector


def solve(
    circuit: Circuit,
    held: Mapping[str, bool] | None = None,
    *,
    unsure: bool = False,
    cases: Cases | None = None,
) -> Solution:
    """Solve every state of a circuit.

    Three-valued iteration (Kleene) from *nothing known* settles every state whose result depends
    neither on history nor on which part moves first (ternary simulation: Eichelberger, "Hazard
    detection in combinational and sequential switching circuits", IBM Journal of Research and
    Development 9, 1965). In the states left over, every combination of the parts with memory is
    tried: those that reproduce themselves are settled results, and a state with none hunts.

    Of the settled results those are told that changes of one input at a time lead to, from rest on. After a change,
    a part that the first search settled is taken as there at once, and the others move together, a step at a time
    each: where their speeds decide, or the way of a settled part matters to them, another of the settled results may
    be reached in the house. Times are another module's work.

    Args:
        circuit: the circuit.
        held: values of inputs that differ from their normal ones, or of calls that are to be held.
        unsure: what to take for a lever of unknown behaviour.
        cases: variants to solve side by side. No history leads from one to another.

    Raises:
        TooManyStates: with the bits of the cases, over `MOST_INPUTS` inputs, or over `MOST_MEMORY` parts with memory.

    Complexity: O(d * (contacts * groups)) operations on vectors of 2^n bits for d driven parts; what a round
        leaves unchanged is not worked out again.
    """
    return _Solver(circuit, dict(held or {}), unsure, cases).run()


def left_open(circuit: Circuit, *, unsure: bool, cases: Cases) -> int:
    """The states of some cases that logic alone leaves open, so that only a search can settle them.

    Args:
        circuit: the circuit.
        unsure: what to take for what is not known.
        cases: the variants.

    Raises:
        TooManyStates: with the bits of the cases, over `MOST_INPUTS` inputs.
    """
    vector = 0
    for bounds in _Solver(circuit, {}, unsure, cases).ternary().values():
        vector |= bounds.low ^ bounds.high
    return vector


class _Solver:
    def __init__(self, circuit: Circuit, held: dict[str, bool], unsure: bool, cases: Cases | None) -> None:
        self.circuit = circuit
        self.network: Network = fold(circuit)
        fixed = {item.name: item.normal for item in circuit.inputs if item.normal is not None}
        self.held: dict[str, bool] = {**fixed, **held}
        free = tuple(item.name for item in circuit.called_inputs if item.name not in held)
        numbered = tuple(f"case bit {bit}" for bit in range(cases.bits)) if cases else ()
        if len(free) + len(numbered) > MOST_INPUTS:
            raise TooManyStates(len(free) + len(numbered), MOST_INPUTS, "independent controls")
        self.free = free
        self.space = StateSpace(free + numbered)
        self.all = self.space.everywhere
        self.unsure = unsure
        self.inputs: dict[str, Bounds] = {}
        for item in circuit.inputs:
            vector = (
                (self.all if self.held[item.name] else 0)
                if item.name in self.held
                else self.space.where(item.name)
            )
            self.inputs[item.name] = Bounds(vector, vector)
        if cases:
            for name in cases.on:
                vector = cases.where(name, 1 << len(free))
                self.inputs[name] = Bounds(vector, vector)
        self.stepper = Stepper(circuit, self.network, self.inputs, self.all, unsure=unsure)

    def run(self) -> Solution:
        driven = self.ternary()
        open_at = 0
        for bounds in driven.values():
            open_at |= bounds.low ^ bounds.high
        if not open_at:
            values = {name: bounds.low for name, bounds in driven.items()}
            return self.solution(self.answer(values, self.all), (), 0)
        return self.with_memory(driven, open_at)

    def solution(
        self, settled: Answer, memories: tuple[Memory, ...], hunting: int, open_at: int = 0
    ) -> Solution:
        return Solution(
            circuit=self.circuit,
            space=self.space,
            held=self.held,
            unsure=self.unsure,
            settled=settled,
            memories=memories,
            hunting=hunting,
            open_at=open_at,
        )

    def ternary(self) -> dict[str, Bounds]:
        driven = {item.name: Bounds(0, self.all) for item in self.circuit.driven}
        while True:
            following = self.stepper.step(driven)
            if following == driven:
                return driven
            driven = following

    def answer(self, driven: Mapping[str, int], at: int) -> Answer:
        values = {
            **{name: bounds.low for name, bounds in self.inputs.items()},
            **driven,
        }
        bounds = {name: Bounds(vector, vector) for name, vector in values.items()}
        made = [item.low for item in self.stepper.made(bounds)]
        supplies = self.circuit.supplies
        by_group = {
            point: self.stepper.reach((point,), made)
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
        line, back = self.network.by_node(together(self.stepper.lines)), self.network.by_node(backs)
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
        found = search(
            self.circuit,
            self.network,
            self.inputs,
            driven,
            parts,
            open_at=open_at,
            size=self.space.size,
            unsure=self.unsure,
        )
        return self.histories(driven, parts, open_at, found)

    def histories(
        self, driven: Mapping[str, Bounds], parts: list[str], open_at: int, found: Searched
    ) -> Solution:
        """Which settled results can be reached, from rest or by which change of an input."""
        closed = self.all & ~open_at
        known = {pattern: self.closed_with(driven, parts, pattern, closed) for pattern in found.moves}
        packed = found.moves[tuple(False for _ in parts)]
        from_rest = {pattern: found.picked.back(vector) for pattern, vector in packed.items()}
        why = self.reachable(known, from_rest, dict(packed), found, open_at)
        values = {name: bounds.low & closed for name, bounds in driven.items()}
        from_rest_at = 0
        for pattern, vector in from_rest.items():
            from_rest_at |= vector
            for name, on in found.settled_by[pattern].items():
                values[name] |= on & vector
        memories = []
        for pattern, vector, name in why:
            on = self.space.where(name)
            for was_on in (True, False):
                here = vector & (~on if was_on else on) & self.all
                if here:
                    full = {part: v & here for part, v in found.settled_by[pattern].items()}
                    memories.append(Memory(answer=self.answer(full, here), after=name, was_on=was_on))
        settled = self.answer(values, closed | from_rest_at)
        return self.solution(settled, tuple(memories), open_at & ~from_rest_at, open_at)

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
        from_rest: Mapping[Pattern, int],
        reached: dict[Pattern, int],
        found: Searched,
        open_at: int,
    ) -> list[tuple[Pattern, int, str]]:
        """Every settled result that a chain of single changes of inputs leads to, and the last change to each.

        ``reached`` and the vectors of the search are of the open states alone.
        """
        why: list[tuple[Pattern, int, str]] = []
        at = {pattern: known[pattern] | from_rest.get(pattern, 0) for pattern in found.moves}
        seen: dict[tuple[str, Pattern], int] = {}
        growing = True
        while growing:
            growing = False
            for name, start in product(self.free, found.moves):
                here = at[start]
                if seen.get((name, start)) is here:
                    continue
                seen[name, start] = here
                near = self.space.turned(here, name) & open_at
                packed = found.picked.out_of(near) if near else 0
                for end, vector in found.moves[start].items() if packed else ():
                    new = packed & vector & ~reached.get(end, 0)
                    if new:
                        reached[end] = reached.get(end, 0) | new
                        spread = found.picked.back(new)
                        at[end] |= spread
                        why.append((end, spread, name))
                        growing = True
        return why
