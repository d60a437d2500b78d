"""What the water does that nobody asked for, in sentences."""

from dataclasses import replace

from generator.states.solve import solve
from generator.views.water_words import water_sentences
from tests.stock import two_port
from tests.three_port_houses import mid_position

TWO = {"hot-water": "hot water", "heating": "heating"}


def test_nothing_to_say_where_all_is_as_it_should_be() -> None:
    assert water_sentences(solve(two_port(TWO))) == ()
    assert water_sentences(solve(mid_position())) == ()


def test_a_latched_lever() -> None:
    solution = solve(two_port(TWO), {"heating-valve.lever": True})
    assert water_sentences(solution) == (
        "The source heats heating though it does not call, whenever hot water calls and heating does not call.",
    )


def test_overrun_without_a_way() -> None:
    solution = solve(two_port(TWO, overrun=True), {"boiler.overrun": True})
    assert water_sentences(solution) == ("A pump runs and the water has no way, while nothing calls.",)


def test_gravity_without_a_valve() -> None:
    circuit = two_port(TWO)
    coil, heating = circuit.water.circuits
    water = replace(circuit.water, circuits=(replace(coil, valve="", opens="", gravity=True), heating))
    zones = (replace(circuit.zones[0], valve="", opens=""), circuit.zones[1])
    said = water_sentences(solve(replace(circuit, water=water, zones=zones)))
    # The hot water's end switch still runs the pump, which stands after the coil and meets the shut heating valve.
    assert said == (
        "A pump runs and the water has no way, whenever hot water calls and heating does not call.",
        "The source heats hot water though it does not call, whenever hot water does not call and heating calls.",
    )
