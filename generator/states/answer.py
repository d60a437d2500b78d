"""What the all-state solver answers: which points are joined to what, and what is driven, in every state.

Plain results; knows nothing of how they were found.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from generator.circuit.model import Circuit
from generator.states.space import StateSpace


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The settled result for the states of ``at``; every vector is meaningful only there.

    ``joined`` holds, for each supply point (``spur.mains-line``), the vector of states in which each
    node is joined to it by metal. ``fed`` is by load, ``on`` by driven part, ``made`` by contact.
    """

    at: int
    joined: Mapping[str, Mapping[str, int]]
    line: Mapping[str, int]
    neutral: Mapping[str, int]
    earth: Mapping[str, int]
    fed: Mapping[str, int]
    on: Mapping[str, int]
    made: Mapping[str, int]


@dataclass(frozen=True, slots=True, kw_only=True)
class Memory:
    """Another settled result in the same states, reached only by a certain history.

    ``after`` names the input whose change leads there, ``was_on`` the value it had before.
    """

    answer: Answer
    after: str
    was_on: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Solution:
    """Every state of a circuit in one scenario.

    ``settled`` covers all states but those of ``hunting``; where the result depends on history it is
    the one reached from rest, and ``memories`` hold the others. ``held`` are the inputs with fixed values.
    ``unsure`` is the value taken for what is not known (a lever that may or may not make its switch). ``open_at`` are
    the states in which logic alone left something open: only there can anything depend on history.
    """

    circuit: Circuit
    space: StateSpace
    held: Mapping[str, bool]
    unsure: bool
    settled: Answer
    memories: tuple[Memory, ...]
    hunting: int
    open_at: int

    @property
    def answers(self) -> tuple[Answer, ...]:
        """The settled result and every result that depends on history."""
        return (self.settled, *(memory.answer for memory in self.memories))

    def inputs_in(self, state: int) -> dict[str, bool]:
        """The value of every input of the circuit in a state, held ones included."""
        return {**self.held, **self.space.values(state)}
