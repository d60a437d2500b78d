"""Packing states for the search, and the search itself against the plain way of going from setting to setting."""

from hypothesis import given
from hypothesis import strategies as st

from generator.states.memory import Picked

STATES = 40
vectors = st.integers(min_value=0, max_value=(1 << STATES) - 1)


@given(vectors, vectors)
def test_what_is_packed_comes_back_where_it_was(open_at: int, vector: int) -> None:
    picked = Picked(open_at, STATES)
    assert picked.back(picked.out_of(vector)) == vector & open_at


@given(vectors)
def test_the_open_states_lie_side_by_side_in_their_order(open_at: int) -> None:
    picked = Picked(open_at, STATES)
    if picked.dense:
        assert picked.count == STATES
        return
    open_states = [state for state in range(STATES) if open_at >> state & 1]
    assert picked.count == len(open_states)
    for place, state in enumerate(open_states):
        assert picked.out_of(1 << state) == 1 << place
        assert picked.back(1 << place) == 1 << state
