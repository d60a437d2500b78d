"""Sparse factors against dense linear algebra."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.states.volts_factor import Factors, pattern_of


@st.composite
def networks(draw: st.DrawFn) -> tuple[int, list[tuple[int, int, complex]], list[int]]:
    """Admittances between nodes, over eight decades, and the nodes that are tied to the common point."""
    size = draw(st.integers(1, 12))
    node = st.integers(0, size - 1)
    siemens = st.builds(
        lambda decade, angle: complex(10.0**decade, -angle * 10.0**decade),
        st.integers(-5, 3),
        st.floats(0, 2),
    )
    ends = st.tuples(node, node, siemens).filter(lambda item: item[0] != item[1])
    return size, draw(st.lists(ends, max_size=30)) if size > 1 else [], draw(st.lists(node, min_size=1))


@given(networks())
def test_solution_and_diagonal_are_those_of_the_dense_matrix(
    network: tuple[int, list[tuple[int, int, complex]], list[int]],
) -> None:
    size, branches, tied = network
    dense = np.diag(np.full(size, 1e-3, dtype=complex))
    for node in tied:
        dense[node, node] += 2.0
    for a, b, siemens in branches:
        dense[[a, b], [a, b]] += siemens
        dense[[a, b], [b, a]] -= siemens
    pattern = pattern_of(size, [(a, b) for a, b, _ in branches])
    entries = [0j] * len(pattern.slots)
    for (a, b), slot in pattern.slots.items():
        entries[slot] = complex(dense[a, b])
    factors = Factors(pattern, [complex(value) for value in dense.diagonal()], entries)
    right = [complex(at + 1, -at) for at in range(size)]
    inverse = np.linalg.inv(dense)
    largest = float(np.abs(inverse).max())
    assert np.allclose(factors.solve(right), inverse @ right, rtol=1e-6, atol=1e-6 * largest)
    assert np.allclose(factors.inverse_diagonal(), inverse.diagonal(), rtol=1e-6, atol=1e-6 * largest)


def test_a_chain_does_not_fill_in() -> None:
    pattern = pattern_of(50, [(at, at + 1) for at in range(49)])
    assert len(pattern.slots) == 49


def test_an_entry_outside_the_pattern_has_no_slot() -> None:
    pattern = pattern_of(3, [(0, 1)])
    assert pattern.slot(1, 0) == pattern.slot(0, 1)
    with pytest.raises(KeyError):
        pattern.slot(0, 2)


def test_a_singular_matrix_is_refused() -> None:
    with pytest.raises(ZeroDivisionError):
        Factors(pattern_of(2, [(0, 1)]), [1, 1], [-1]).solve([1, 0])
