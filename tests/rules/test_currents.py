"""The states in which currents pass a limit, held against adding them up state by state."""

from math import acos, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.catalogue.parts import Load, LoadKind
from generator.rules.currents import alike, current_a, over, sum_of

STATES = 16
drawn = st.lists(
    st.tuples(
        st.integers(min_value=0, max_value=(1 << STATES) - 1),
        st.builds(
            lambda amps, factor: complex(amps, -amps * tan(acos(factor))),
            st.floats(min_value=0.01, max_value=5),
            st.floats(min_value=0.3, max_value=1),
        ),
    ),
    max_size=6,
)


def load(watts: float, power_factor: float) -> Load:
    return Load(
        name="x.load",
        words="load",
        a="x.L",
        b="x.N",
        watts=watts,
        power_factor=power_factor,
        kind=LoadKind.MOTOR,
    )


@given(drawn, st.floats(min_value=0.1, max_value=15))
def test_over_is_every_state_over(each: list[tuple[int, complex]], limit_a: float) -> None:
    totals = [abs(sum(current for vector, current in each if vector >> state & 1)) for state in range(STATES)]
    # A sum that meets the limit to the last digit may fall on either side.
    if any(abs(total - limit_a) < 1e-9 for total in totals):
        return
    states, most = over(each, limit_a)
    assert states == sum(1 << state for state, total in enumerate(totals) if total > limit_a)
    assert most == pytest.approx(max((total for total in totals if total > limit_a), default=0.0))


@given(drawn)
def test_no_state_draws_more_than_the_sum(each: list[tuple[int, complex]]) -> None:
    assert over(each, sum_of(each) * (1 + 1e-12)) == (0, 0.0)


@given(st.lists(st.integers(min_value=0, max_value=(1 << STATES) - 1), max_size=5))
def test_alike_splits_all_states(vectors: list[int]) -> None:
    parts = alike(vectors, (1 << STATES) - 1)
    assert sum(parts) == (1 << STATES) - 1
    for part in parts:
        assert all(part & vector in (0, part) for vector in vectors)


def test_apparent_power() -> None:
    """A motor of 6 W at power factor 0.8 takes 7.5 VA: 4.5 var lag."""
    current = current_a(load(6, 0.8))
    assert abs(current) * 230 == pytest.approx(7.5)
    assert -current.imag * 230 == pytest.approx(sqrt(7.5**2 - 6**2))
