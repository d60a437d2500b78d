"""Which side of the end switches is fed changes nothing but what the two sides read at rest.

Both ways round are found: common practice, no source.
"""

from collections.abc import Callable
from itertools import product

import pytest

from generator.circuit.model import Circuit
from generator.states.solve import solve
from generator.states.volts import VoltsResult, solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_earth, incoming_neutral, readings
from tests.stock import two_port

ZONES = {"hot-water": "hot water", "heating": "heating"}


def both_ways(*, overrun: bool = False, relay: bool = False) -> tuple[Circuit, Circuit]:
    grey = two_port(ZONES, fed_core="GY", overrun=overrun, relay=relay)
    return grey, two_port(ZONES, fed_core="OG", overrun=overrun, relay=relay)


def sides(circuit: Circuit, result: VoltsResult, valve: str, to: str) -> tuple[float, float]:
    """What a meter shows on grey and on orange."""
    ends = (f"{valve}.switch-a", f"{valve}.switch-b")
    shown = readings(circuit, result, HIGH_IMPEDANCE, ends, to=to)
    return shown[ends[0]], shown[ends[1]]


@pytest.mark.parametrize("kwargs", [{}, {"overrun": True}, {"relay": True}], ids=str)
def test_every_part_does_the_same_in_every_state(kwargs: dict[str, bool]) -> None:
    grey, orange = both_ways(**kwargs)
    free = [item.name for item in grey.inputs if item.normal is None or item.name.endswith("lever")]
    for values in product((False, True), repeat=len(free)):
        inputs = dict(zip(free, values, strict=True))
        one, other = solve_volts(grey, inputs), solve_volts(orange, inputs)
        assert (one.driven, one.fed, one.closed) == (other.driven, other.fed, other.closed)
        assert not one.uncertain
        assert not other.uncertain


@pytest.mark.parametrize("kwargs", [{}, {"overrun": True}, {"relay": True}], ids=str)
def test_the_logic_sees_it_alike(kwargs: dict[str, bool]) -> None:
    one, other = (solve(circuit).settled for circuit in both_ways(**kwargs))
    assert (one.on, one.fed, one.made) == (other.on, other.fed, other.made)


@pytest.mark.parametrize("end_of", [incoming_neutral, incoming_earth])
def test_fed_side_reads_the_supply_and_the_other_waits_for_the_switch(
    end_of: Callable[[Circuit], str],
) -> None:
    grey, orange = both_ways()
    for circuit, fed, waiting in ((grey, 0, 1), (orange, 1, 0)):
        to = end_of(circuit)
        rest = solve_volts(circuit, {})
        for zone in ZONES:
            shown = sides(circuit, rest, f"{zone}-valve", to)
            assert shown[fed] == pytest.approx(230, abs=1)
            assert shown[waiting] == pytest.approx(0, abs=0.5)
        called = solve_volts(circuit, dict.fromkeys(circuit.zones[1].call_inputs, True))
        for zone in ZONES:
            # The waiting sides are joined, so the idle valve's reads the supply as well.
            assert sides(circuit, called, f"{zone}-valve", to) == pytest.approx((230, 230), abs=1)
