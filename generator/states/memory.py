"""The search of the states whose result depends on history: from every setting of the parts with memory, at once.

What is known of the new state is taken as there from the beginning; the parts with memory then move in steps, all together.
Finds what settles and where each setting leads; which of it can be reached is worked out elsewhere.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import compress, groupby, product

from generator.circuit.model import Circuit
from generator.states.network import Bounds, Network
from generator.states.step import Stepper

Pattern = tuple[bool, ...]
"""One value for each part with memory."""
MOST_BITS = 1 << 23
"""How many bits a vector of the search may take: more settings than fit are gone through in turn."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Searched:
    """What the search found, in vectors over all states.

    ``settled_by`` gives every driven part while those with memory rest at a pattern. ``moves`` gives, for each
    pattern to start from, where the open states come to rest; states that never do are in none. Its vectors are packed:
    of the open states alone.
    """

    settled_by: Mapping[Pattern, Mapping[str, int]]
    moves: Mapping[Pattern, Mapping[Pattern, int]]
    picked: "Picked"


def search(
    circuit: Circuit,
    network: Network,
    inputs: Mapping[str, Bounds],
    driven: Mapping[str, Bounds],
    parts: Sequence[str],
    *,
    open_at: int,
    size: int,
    unsure: bool,
) -> Searched:
    """Try every setting of the parts with memory in the open states.

    Args:
        circuit: the circuit.
        network: the same, folded.
        inputs: when each input is on, exactly.
        driven: what is known of each driven part.
        parts: those with memory.
        open_at: the states to search, at least one.
        size: how many states there are.
        unsure: what to take for what is not known.

    Complexity: as many rounds as the slowest setting takes to rest, at most 2^k for k parts, on vectors of 2^k times
        the open states.
    """
    picked = Picked(open_at, size)
    patterns: list[Pattern] = list(product((False, True), repeat=len(parts)))
    at_once = max(1, MOST_BITS // picked.count)
    settled_by: dict[Pattern, Mapping[str, int]] = {}
    moves: dict[Pattern, Mapping[Pattern, int]] = {}
    few = {name: picked.out_of(bounds.low) for name, bounds in inputs.items()}
    known = {name: (picked.out_of(b.low), picked.out_of(b.high)) for name, b in driven.items()}
    for start in range(0, len(patterns), at_once):
        block = _Block(picked, tuple(patterns[start : start + at_once]), tuple(parts))
        stepper = Stepper(
            circuit,
            network,
            {name: Bounds(vector, vector) for name, vector in ((n, block.each(v)) for n, v in few.items())},
            block.everywhere,
            unsure=unsure,
        )
        placed = block.placed(known)
        settled_by.update(block.followers(stepper, placed))
        moves.update(block.ends(stepper, placed))
    return Searched(settled_by=settled_by, moves=moves, picked=picked)


class Picked:
    """The open states, packed together; all states as they are where most are open."""

    def __init__(self, open_at: int, size: int) -> None:
        self.size = size
        self.open_at = open_at
        self.dense = open_at.bit_count() * 2 > size
        self.count = size if self.dense else open_at.bit_count()
        self.chosen = b"" if self.dense else bytes(map(int, _bits(open_at, size)))
        self.runs = () if self.dense else tuple(_runs(self.chosen))

    def out_of(self, vector: int) -> int:
        """The bits of the open states, side by side."""
        if self.dense:
            return vector
        return int("".join(compress(_bits(vector, self.size), self.chosen))[::-1] or "0", 2)

    def back(self, packed: int) -> int:
        """The vector over all states."""
        if self.dense or not packed:
            return packed & self.open_at if self.dense else 0
        bits = _bits(packed, self.count)
        pieces, at = [], 0
        for gap, length in self.runs:
            pieces += ["0" * gap, bits[at : at + length]]
            at += length
        return int("".join(pieces)[::-1], 2)


def _runs(chosen: bytes) -> Iterator[tuple[int, int]]:
    """The runs of open states: how many shut ones come before each, and how long it is."""
    gap = 0
    for bit, run in groupby(chosen):
        length = sum(1 for _ in run)
        if bit:
            yield gap, length
        gap = length


def _bits(vector: int, size: int) -> str:
    """The bits of a vector, that of state 0 first."""
    return format(vector, f"0{size}b")[::-1]


class _Block:
    """Some patterns, each over all picked states; that of pattern ``p`` takes the ``p``-th run of bits."""

    def __init__(self, picked: Picked, patterns: tuple[Pattern, ...], parts: tuple[str, ...]) -> None:
        self.picked = picked
        self.patterns = patterns
        self.parts = parts
        self.ones = (1 << picked.count) - 1
        self.everywhere = (1 << picked.count * len(patterns)) - 1
        self.repeat = self.everywhere // self.ones

    def each(self, packed: int) -> int:
        """The same for every pattern."""
        return self.everywhere if packed == self.ones else packed * self.repeat

    def runs(self, vector: int) -> list[int]:
        """A vector cut into what it says of each pattern."""
        return [
            vector >> at * self.picked.count & self.ones if vector else 0 for at in range(len(self.patterns))
        ]

    def placed(self, known: Mapping[str, tuple[int, int]]) -> dict[str, Bounds]:
        """Driven parts with those that have memory set by the pattern, the rest at their low."""
        result = {}
        open_at = self.picked.out_of(self.picked.open_at)
        for name, (low, high) in known.items():
            vector = self.each(low)
            if name in self.parts:
                index = self.parts.index(name)
                for at, pattern in enumerate(self.patterns):
                    if pattern[index]:
                        vector |= (open_at & high) << at * self.picked.count
            result[name] = Bounds(vector, vector)
        return result

    def followers(self, stepper: Stepper, placed: Mapping[str, Bounds]) -> dict[Pattern, Mapping[str, int]]:
        """Every driven part when those with memory rest at the pattern.

        One round tells: no part goes by what is neither known nor has memory.
        """
        following = stepper.step(placed)
        runs = {name: self.runs((placed if name in self.parts else following)[name].low) for name in placed}
        return {
            pattern: _Lazy(self.picked, {name: run[at] for name, run in runs.items()})
            for at, pattern in enumerate(self.patterns)
        }

    def ends(self, stepper: Stepper, placed: Mapping[str, Bounds]) -> dict[Pattern, Mapping[Pattern, int]]:
        """Where each open state comes to rest; missing states never do."""
        current = dict(placed)
        left = self.each(self.picked.out_of(self.picked.open_at))
        resting: dict[Pattern, int] = {}
        for _ in range(1 << len(self.parts)):
            following = stepper.step(current)
            still = left
            for name in self.parts:
                still &= ~(current[name].low ^ following[name].low)
            if still:
                self._sort(current, still, resting)
                left &= ~still
            if not left:
                break
            current = following
        moves: dict[Pattern, dict[Pattern, int]] = {pattern: {} for pattern in self.patterns}
        for end in sorted(resting):
            for start, run in zip(self.patterns, self.runs(resting[end]), strict=True):
                if run:
                    moves[start][end] = run
        return dict(moves)

    def _sort(self, current: Mapping[str, Bounds], still: int, resting: dict[Pattern, int]) -> None:
        """Put states that have come to rest to the pattern at which they rest."""
        groups: list[tuple[Pattern, int]] = [((), still)]
        for name in self.parts:
            vector = current[name].low
            groups = [
                (*pair,)
                for pattern, here in groups
                for pair in (((*pattern, False), here & ~vector), ((*pattern, True), here & vector))
                if pair[1]
            ]
        for pattern, here in groups:
            resting[pattern] = resting.get(pattern, 0) | here


class _Lazy(Mapping[str, int]):
    """Vectors that are spread over all states only when asked for: few patterns can be reached."""

    def __init__(self, picked: Picked, packed: Mapping[str, int]) -> None:
        self._picked = picked
        self._packed = packed
        self._spread: dict[str, int] = {}

    def __getitem__(self, name: str) -> int:
        if name not in self._spread:
            self._spread[name] = self._picked.back(self._packed[name])
        return self._spread[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._packed)

    def __len__(self) -> int:
        return len(self._packed)
