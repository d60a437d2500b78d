"""Packing states for the search, and how much the search does at a time."""

from collections.abc import Mapping
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.circuit.model import Circuit
from generator.states.memory import Picked
from generator.states.network import Bounds
from generator.states.solve import solve
from generator.states.step import Stepper
from tests.circuits import Wire, house

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


def test_all_states_stay_where_more_than_half_are_open() -> None:
    assert Picked(0b0111, 4).dense
    half = Picked(0b0101, 4)
    assert not half.dense
    assert half.out_of(0b0110) == 0b10


class Recorded(Stepper):
    """Counts the rounds, and knows the longest vector."""

    rounds = 0
    longest = 0

    def __init__(self, *given: Any, **named: Any) -> None:
        super().__init__(*given, **named)
        Recorded.longest = max(Recorded.longest, self.all.bit_length())

    def step(self, driven: Mapping[str, Bounds]) -> dict[str, Bounds]:
        Recorded.rounds += 1
        return super().step(driven)


@pytest.fixture(autouse=True)
def _recorded(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.states.memory.Stepper", Recorded)
    Recorded.rounds = Recorded.longest = 0


def relay(pole: str) -> Circuit:
    """A relay whose coil hangs on a contact of its own, which is fed while a thermostat calls; three more thermostats only add states."""
    wires: list[Wire] = [
        ("spur.L", "start.common", "BN", "a"),
        ("start.call", "relay.11", "BK", "a"),
        (f"relay.{pole}", "relay.A1", "BN", "b"),
        ("relay.A2", "spur.N", "BU", "b"),
    ]
    others = {f"other-{number}": "room-thermostat" for number in range(3)}
    return house(
        devices={"spur": "fused-spur", "start": "room-thermostat", "relay": "relay", **others},
        conductors=wires,
    )


def test_as_many_rounds_as_the_slowest_takes_to_rest() -> None:
    """One for what goes by the parts with memory; one more where every setting of a relay that holds itself rests."""
    assert not solve(relay("14")).hunting
    assert Recorded.rounds == 2


def test_what_never_rests_is_left_once_every_setting_was_met() -> None:
    """Two settings of one relay that breaks its own coil, and one round for what goes by it."""
    solution = solve(relay("12"))
    assert solution.hunting == solution.space.where("start.calling")
    assert Recorded.rounds == 3


@pytest.mark.parametrize(("bits", "longest"), [(1, 8), (15, 8), (16, 16), (1 << 23, 16)])
def test_as_many_settings_at_once_as_fit(bits: int, longest: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Two settings of eight open states each."""
    monkeypatch.setattr("generator.states.memory.MOST_BITS", bits)
    solution = solve(relay("14"))
    assert solution.open_at.bit_count() == 8
    assert Recorded.longest == longest
