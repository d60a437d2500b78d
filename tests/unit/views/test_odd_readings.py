"""Puzzling readings by name: each is told of where it can occur, and nowhere else."""

import pytest

from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.views.odd_readings import odd_readings
from generator.views.readings import StateReadings, read_states
from generator.views.shown_states import shown_states
from tests.circuits import house
from tests.stock import demo_circuits, two_port
from tests.three_port_houses import mid_position


def notes(circuit: Circuit) -> dict[str, list[str]]:
    """The notes that have a name, by it."""
    solution = solve(circuit)
    named: dict[str, list[str]] = {}
    for note in odd_readings(solution, read(circuit)):
        name, colon, rest = note.partition(": ")
        if colon:
            named.setdefault(name, []).append(rest)
    return named


def read(circuit: Circuit) -> tuple[StateReadings, ...]:
    return read_states(solve(circuit), shown_states(circuit))


def test_a_mid_position_valve() -> None:
    found = notes(mid_position())
    white, grey = found["Half-wave"]
    assert "while nothing calls" in white
    assert "terminal B" in white
    assert "while every zone calls" in grey
    assert "terminal E" in grey
    assert "depends on the meter and the motor (on a d.c. range" in grey
    through = "\n".join(found["Back-feed through a satisfied thermostat"])
    assert "Programmer on-1" in through
    assert "the tank" in through
    assert "Ghost voltage" in found
    (lost,) = found["Lost neutral"]
    assert lost.startswith("if the BU from spur N to terminal H comes off, terminal H and the 4 other")
    assert "230 V" in lost


def test_a_two_port_house_has_neither_half_wave_nor_back_feed() -> None:
    found = notes(two_port({"hot-water": "hot water", "heating": "heating"}))
    assert {"Ghost voltage", "Lost neutral"} <= set(found)
    assert not {"Half-wave", "Back-feed", "Back-feed through a satisfied thermostat"} & set(found)
    assert not any(name.startswith("Back-feed through a motor") for name in found)


def test_a_back_feed_through_a_motor() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "pump": "pump", "box": ("wiring-centre", {"count": 2})},
        conductors=[("spur.L", "pump.L", "BN"), ("pump.N", "box.1", "BU")],
    )
    (note,) = notes(circuit)["Back-feed through a motor"]
    assert "terminal 1 (230 V)" in note


def test_readings_that_are_ranges() -> None:
    circuit = mid_position()
    (called,) = [one for one in read(circuit) if one.state.id == "all"]
    grey = called.by_terminal["centre.E"]
    assert grey.word == "half-wave"
    assert not grey.live
    assert grey.band_v is not None
    low, high = grey.band_v
    assert 50 < low < high < 200
    assert grey.shown == f"{low:.0f}–{high:.0f}"
    assert grey.band_to_earth_v is not None
    assert called.by_terminal["centre.B"].band_v is None
    assert called.by_terminal["centre.B"].shown == "230"


def test_a_ghost_names_cables_of_no_recorded_length() -> None:
    (note,) = notes(mid_position())["Ghost voltage"]
    assert "5 m for a cable of no recorded length (programmer" in note
    (note,) = notes(two_port({"heating": "heating"}))["Ghost voltage"]
    assert "recorded" not in note


@pytest.mark.parametrize("name", demo_circuits())
def test_a_note_of_a_ghost_where_a_terminal_reads_open_beside_line(name: str) -> None:
    """No open terminal, no ghost; the notes never tell of one that the readings do not have."""
    circuit = demo_circuits()[name]
    is_open = any(reading.word == "open" for one in read(circuit) for reading in one.by_terminal.values())
    assert is_open or "Ghost voltage" not in notes(circuit)
