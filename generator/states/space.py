"""The space of control states: every combination of the inputs that count, one bit a state.

A *vector* is an int whose bit ``s`` tells something of state ``s``; bit ``i`` of the number ``s`` is
the value of input ``i``. Knows nothing of circuits.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class StateSpace:
    """All 2^n combinations of n inputs, in the order of ``inputs``."""

    inputs: tuple[str, ...]

    @property
    def size(self) -> int:
        """How many states there are."""
        return 1 << len(self.inputs)

    @property
    def everywhere(self) -> int:
        """The vector that is true in every state."""
        return (1 << self.size) - 1

    def where(self, name: str) -> int:
        """The vector of the states in which the input is on. Raises ValueError for an unknown name."""
        index = self.inputs.index(name)
        step = 1 << index
        vector = ((1 << step) - 1) << step
        for higher in range(index + 1, len(self.inputs)):
            vector |= vector << (1 << higher)
        return vector

    def state(self, on: Iterable[str]) -> int:
        """The number of the state in which exactly these inputs are on. Unknown names are passed over."""
        wanted = set(on)
        return sum(1 << index for index, name in enumerate(self.inputs) if name in wanted)

    def values(self, state: int) -> dict[str, bool]:
        """The value of every input in a state."""
        return {name: bool(state >> index & 1) for index, name in enumerate(self.inputs)}

    def turned(self, vector: int, name: str) -> int:
        """The vector as seen from the states that differ in this one input."""
        step = 1 << self.inputs.index(name)
        on = self.where(name)
        return (vector & on) >> step | (vector & ~on) << step


def states_in(vector: int) -> Iterator[int]:
    """The numbers of the states in which a vector is true, ascending.

    Complexity: linear in the vector's length; reads it byte by byte, since arithmetic on the whole for
    each state would be quadratic.
    """
    for place, byte in enumerate(_bytes_of(vector)):
        for bit in range(8) if byte else ():
            if byte >> bit & 1:
                yield place * 8 + bit


def true_in(vector: int, states: Sequence[int]) -> list[bool]:
    """Whether a vector is true in each of the states.

    A vector of millions of states is turned into bytes once, since shifting it costs as much for every state.
    """
    whole = _bytes_of(vector)
    return [state >> 3 < len(whole) and bool(whole[state >> 3] >> (state & 7) & 1) for state in states]


def _bytes_of(vector: int) -> bytes:
    """Its bits, eight states a byte."""
    return vector.to_bytes((vector.bit_length() + 7) // 8, "little")


def fewest_on(vector: int) -> int | None:
    """The first state of the vector with as few inputs on as any; None when the vector is empty."""
    return min(states_in(vector), key=int.bit_count, default=None)
