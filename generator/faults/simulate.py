"""Every fault of a house in every state of its controls, with the levers at rest and latched: many at once.

Gives vectors; what they mean for a tenant or an engineer is not said here.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.catalogue.logic import Expr, Unsure, atoms
from generator.circuit.model import Circuit
from generator.faults.fault import Fault, Of
from generator.faults.instrument import Instrumented, instrumented
from generator.states.answer import Answer, Solution
from generator.states.solve import Cases, TooManyStates, left_open, solve
from generator.states.space import StateSpace
from generator.states.water import WaterAnswer, water_answer

MOST_BITS = 16
"""At most 2^16 states are held at once: a vector then takes 8 KiB, and more would be no quicker."""
_FEW = 4
"""Faults with which something remembers are solved apart where they are fewer than one in so many."""
Levers = frozenset[str]
"""Inputs of the levers that are latched."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """One settled result of many cases: the circuit, and the water with the faults of the water in it.

    ``no_flow`` holds by water circuit where nothing passes it, ``answer`` what is fed and driven as far as it has effect.
    """

    answer: Answer
    water: WaterAnswer
    no_flow: Mapping[str, int]
    bypass_shut: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Batch:
    """Some faults, solved in every state with every one of ``levers``.

    ``outcomes`` are all settled results, those that depend on history included, for every value of what is not known;
    ``hunting`` where none settles, ``open_at`` where anything may depend on history. Block ``fault * len(levers) + lever`` of a vector belongs to that case; ``free`` are
    the states of a block.
    """

    faults: tuple[Fault, ...]
    levers: tuple[Levers, ...]
    free: StateSpace
    outcomes: tuple[tuple[Outcome, ...], ...]
    hunting: int
    open_at: int

    def blocks(self, vector: int) -> list[int]:
        """A vector cut into its blocks, one for each case, in order."""
        size = self.free.size
        count = len(self.faults) * len(self.levers)
        if size % 8:
            ones = (1 << size) - 1
            return [vector >> at * size & ones for at in range(count)]
        width = size // 8
        whole = (vector & ((1 << size * count) - 1)).to_bytes(width * count, "little")
        return [int.from_bytes(whole[at * width : (at + 1) * width], "little") for at in range(count)]

    def everywhere(self, block: int) -> int:
        """The vector that has the same block in every case."""
        size = self.free.size
        ones = (1 << size * len(self.faults) * len(self.levers)) - 1
        return ones // ((1 << size) - 1) * block


@dataclass(frozen=True, slots=True, kw_only=True)
class NotSolved:
    """Faults of which no state could be solved: more parts with memory than can be searched."""

    faults: tuple[Fault, ...]


def simulate(
    circuit: Circuit, faults: Sequence[Fault], levers: Sequence[Levers], *, free: Sequence[str]
) -> Iterator[Batch | NotSolved]:
    """Solve every fault in every state.

    Args:
        circuit: the house without a fault.
        faults: what may fail, `SOUND` for nothing.
        levers: which levers are latched together, in turn; mostly the empty set first.
        free: further inputs to be solved in both values, such as cut-outs.

    Complexity: a solution of 2^`MOST_BITS` states for as many faults as fit.
    """
    opened = set(free)
    circuit = replace(
        circuit,
        inputs=tuple(replace(i, normal=None) if i.name in opened else i for i in circuit.inputs),
    )
    size = 1 << len(circuit.called_inputs)
    at_once = max(1, (1 << MOST_BITS) // (size * len(levers)))
    for start in range(0, len(faults), at_once):
        yield from _batches(circuit, tuple(faults[start : start + at_once]), tuple(levers))


def _batches(
    circuit: Circuit, faults: tuple[Fault, ...], levers: tuple[Levers, ...]
) -> Iterator[Batch | NotSolved]:
    """Solve some faults together; those with which something remembers by themselves, where they are few."""
    setting = _Setting(instrumented(circuit, faults), levers)
    remembers = setting.remembering()
    if 0 < len(remembers) < len(faults) / _FEW:
        quiet = tuple(fault for at, fault in enumerate(faults) if at not in remembers)
        yield from _solved(circuit, quiet, levers)
        yield from _solved(circuit, tuple(faults[at] for at in sorted(remembers)), levers)
        return
    yield from _solved(circuit, faults, levers)


def _solved(
    circuit: Circuit, faults: tuple[Fault, ...], levers: tuple[Levers, ...]
) -> Iterator[Batch | NotSolved]:
    try:
        yield _Setting(instrumented(circuit, faults), levers).batch()
    except TooManyStates:
        if len(faults) == 1:
            yield NotSolved(faults=faults)
            return
        half = len(faults) // 2
        yield from _solved(circuit, faults[:half], levers)
        yield from _solved(circuit, faults[half:], levers)


class _Setting:
    """A circuit with faults built in, its levers as cases beside them."""

    def __init__(self, built: Instrumented, levers: tuple[Levers, ...]) -> None:
        self.built = built
        self.levers = levers
        latched = {name for each in levers for name in each}
        self.circuit = replace(
            built.circuit, inputs=tuple(item for item in built.circuit.inputs if item.name not in latched)
        )
        on = {name: self.cases(positions) for name, positions in built.on.items()}
        for name in latched:
            on[name] = [
                at * len(levers) + lever
                for at in range(len(built.faults))
                for lever, each in enumerate(levers)
                if name in each
            ]
        self.both = Cases(count=len(built.faults) * len(levers), on=on)
        self.free = StateSpace(tuple(item.name for item in self.circuit.called_inputs))
        self.unknown = (False, True) if _has_unknown(self.circuit) else (False,)

    def cases(self, positions: Sequence[int]) -> list[int]:
        """The cases of some faults."""
        return [at * len(self.levers) + lever for at in positions for lever in range(len(self.levers))]

    def remembering(self) -> frozenset[int]:
        """The positions of the faults with which something may depend on history."""
        left = 0
        for value in self.unknown:
            left |= left_open(self.circuit, unsure=value, cases=self.both)
        size = self.free.size * len(self.levers)
        ones = (1 << size) - 1
        return frozenset(at for at in range(len(self.built.faults)) if left >> at * size & ones)

    def batch(self) -> Batch:
        """Solve all of it."""
        built = self.built
        circuit = self.circuit
        changed = _Changed(
            loads={load.name: built.having(Of.LOAD, load.name) for load in circuit.loads},
            heat={device.name: built.having(Of.HEAT, device.name) for device in circuit.devices},
            flow={item.name: built.having(Of.FLOW, item.name) for item in circuit.water.circuits},
            bypass=built.having(Of.BYPASS, ""),
            cases=self.cases,
            size=self.free.size,
        )
        solutions = [solve(circuit, unsure=value, cases=self.both) for value in self.unknown]
        hunting = open_at = 0
        for solution in solutions:
            hunting |= solution.hunting
            open_at |= solution.open_at
        return Batch(
            faults=built.faults,
            levers=self.levers,
            free=self.free,
            outcomes=tuple(
                tuple(changed.outcome(solution, answer) for answer in solution.answers)
                for solution in solutions
            ),
            hunting=hunting,
            open_at=open_at,
        )


class _Changed:
    """Puts the faults that no metal shows into an answer."""

    def __init__(
        self,
        *,
        loads: Mapping[str, Sequence[int]],
        heat: Mapping[str, Sequence[int]],
        flow: Mapping[str, Sequence[int]],
        bypass: Sequence[int],
        cases: Callable[[Sequence[int]], list[int]],
        size: int,
    ) -> None:
        self.cases = cases
        self.size = size
        self.loads = {name: self.vector(at) for name, at in loads.items() if at}
        self.heat = {name: self.vector(at) for name, at in heat.items() if at}
        self.flow = {name: self.vector(at) for name, at in flow.items()}
        self.bypass = self.vector(bypass)

    def vector(self, positions: Sequence[int]) -> int:
        cases = self.cases(positions)
        if not cases:
            return 0
        return Cases(count=max(cases) + 1, on={"": cases}).where("", self.size)

    def outcome(self, solution: Solution, answer: Answer) -> Outcome:
        fed = {name: vector & ~self.loads.get(name, 0) for name, vector in answer.fed.items()}
        on = dict(answer.on)
        for device, cold in self.heat.items():
            for part in (f"{device}.firing", f"{device}.heating-tap-water"):
                if part in on:
                    on[part] &= ~cold
        working = replace(answer, fed=fed, on=on)
        return Outcome(
            answer=working,
            water=water_answer(solution, working),
            no_flow=self.flow,
            bypass_shut=self.bypass,
        )


def _has_unknown(circuit: Circuit) -> bool:
    whens: list[Expr] = [each.when for each in circuit.contacts]
    whens += [each.when for each in circuit.driven]
    whens += [each.when for each in circuit.diodes]
    return any(isinstance(leaf, Unsure) for when in whens for leaf in atoms(when))
