"""The space of states held against the plain way: every state looked at by itself."""

import random
from itertools import pairwise

import pytest

from generator.states.space import StateSpace, fewest_on, states_in, true_in

INPUTS = ("a", "b", "c", "d")


def test_every_state_has_its_values() -> None:
    space = StateSpace(INPUTS)
    assert space.size == 16
    assert space.everywhere == 0xFFFF
    seen = set()
    for state in range(16):
        values = space.values(state)
        assert [values[name] for name in INPUTS] == [bool(state & 1 << place) for place in range(4)]
        assert space.state(name for name, on in values.items() if on) == state
        for name, on in values.items():
            assert bool(space.where(name) >> state & 1) is on
        seen.add(tuple(values.values()))
    assert len(seen) == 16
    assert space.state(["a", "no such input"]) == 1


def test_a_turned_input_is_the_neighbour() -> None:
    space = StateSpace(INPUTS)
    vector = random.Random(1).getrandbits(16)  # noqa: S311  # repeatable
    for place, name in enumerate(INPUTS):
        turned = space.turned(vector, name)
        assert [turned >> state & 1 for state in range(16)] == [
            vector >> (state ^ 1 << place) & 1 for state in range(16)
        ]


@pytest.mark.parametrize("bits", [0, 1, 7, 8, 9, 16, 100, 4095, 4096, 4097, 9001])
def test_states_of_a_vector(bits: int) -> None:
    made = random.Random(bits)  # noqa: S311  # repeatable
    vector = made.getrandbits(bits) | 1 << bits - 1 if bits else 0
    plain = [state for state in range(bits + 20) if vector >> state & 1]
    found = list(states_in(vector))
    assert found == plain
    assert all(one < other for one, other in pairwise(found))
    asked = [*range(bits + 20)]
    assert true_in(vector, asked) == [bool(vector >> state & 1) for state in asked]
    assert true_in(vector, asked[-3:]) == [bool(vector >> state & 1) for state in asked[-3:]]
    assert true_in(vector, []) == []


def test_the_state_with_fewest_on() -> None:
    assert fewest_on(0) is None
    assert fewest_on(1 << 7) == 7
    assert fewest_on(1 << 7 | 1 << 12 | 1 << 3) == 3
    assert fewest_on(1 << 6 | 1 << 8) == 8
    assert fewest_on(1 << 4 | 1 << 8) == 4
