"""Currents of loads at nominal voltage, and the states in which their sum passes a limit.

Knows loads and vectors: no rule. Currents are complex, so that a motor's and a heater's are added as they are.
"""

from collections.abc import Iterable, Sequence
from math import acos, tan

from generator.catalogue.parts import Load
from generator.states.mains import NOMINAL_V

Drawn = tuple[int, complex]
"""The states in which a current flows, and the current in ampere."""


def current_a(load: Load) -> complex:
    """The current of a load in ampere, lagging where its power factor is below 1."""
    real = load.watts / NOMINAL_V
    return complex(real, -real * tan(acos(load.power_factor)))


def sum_of(drawn: Iterable[Drawn]) -> float:
    """The magnitudes of all currents together in ampere: no state can draw more."""
    return sum(abs(current) for vector, current in drawn if vector)


def over(drawn: Sequence[Drawn], limit_a: float) -> tuple[int, float]:
    """The states in which the currents together pass a limit, and the largest sum in ampere.

    Splits the states by each load in turn and drops every part that cannot pass the limit any more.

    Returns:
        An empty vector and 0 where the limit is never passed.
    """
    if sum_of(drawn) <= limit_a:
        return 0, 0.0
    ordered = sorted(drawn, key=lambda item: -abs(item[1]))
    everywhere = 0
    for vector, _ in ordered:
        everywhere |= vector
    parts: list[tuple[int, complex]] = [(everywhere, 0j)]
    left = sum_of(ordered)
    for vector, current in ordered:
        left -= abs(current) if vector else 0.0
        split = []
        for states, total in parts:
            split += [(states & vector, total + current), (states & ~vector, total)]
        parts = [(states, total) for states, total in split if states and abs(total) + left > limit_a]
    passing = 0
    most = 0.0
    for states, total in parts:
        if abs(total) > limit_a:
            passing |= states
            most = max(most, abs(total))
    return passing, most


def alike(vectors: Sequence[int], at: int) -> list[int]:
    """The states split into those in which exactly the same of the vectors are true."""
    parts = [at]
    for vector in vectors:
        parts = [part for states in parts for part in (states & vector, states & ~vector) if part]
    return parts
