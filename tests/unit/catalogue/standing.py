"""A few devices wired to a spur by hand, and what is on, fed or live in a state of their controls."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from generator.states.answer import Solution
from generator.states.solve import solve
from tests.circuits import Kinds, Wire, house


def solved(
    devices: Kinds,
    wires: Sequence[tuple[str, str]],
    *,
    held: Mapping[str, bool] | None = None,
    zones: Mapping[str, Mapping[str, Any]] | None = None,
) -> Solution:
    """Every state of devices wired to the fused spur ``spur``; each wire is a single core from end to end."""
    named: list[Wire] = [(a, b, "BN", f"wire-{index}") for index, (a, b) in enumerate(wires)]
    circuit = house(devices={"spur": "fused-spur", **devices}, conductors=named, zones=zones)
    return solve(circuit, held)


def fed(*devices: str, line: str = "L") -> list[tuple[str, str]]:
    """Wires that bring line, neutral and earth of the spur to devices that have all three."""
    return [
        pair
        for name in devices
        for pair in (
            ("spur.L", f"{name}.{line}"),
            ("spur.N", f"{name}.N"),
            ("spur.E", f"{name}.E"),
        )
    ]


def at(solution: Solution, on: Iterable[str], what: Mapping[str, int], name: str) -> bool:
    """Whether something of the settled answer is so in the state with these inputs on."""
    return bool(what[name] >> solution.space.state(on) & 1)


def is_on(solution: Solution, part: str, *on: str) -> bool:
    """Whether a driven part is on in the state with these inputs on."""
    return at(solution, on, solution.settled.on, part)


def is_live(solution: Solution, point: str, *on: str) -> bool:
    """Whether a point is joined to line in the state with these inputs on."""
    return at(solution, on, solution.settled.line, point)
