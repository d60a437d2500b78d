"""The supply band, and what the solver reads when the supply lies at either end of it."""

import pytest

from generator.circuit.model import Circuit
from generator.states.mains import HIGHEST_V, LOWEST_V, NEUTRAL_EARTH_V, NOMINAL_V
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_earth, incoming_neutral, readings
from tests.second_method.states import telling_states
from tests.stock import demo_circuits


def test_supply_band() -> None:
    """The Electricity Supply (Amendment) (No. 2) Regulations 1994 (SI 1994/3021): 230 V, 10 % above to 6 % below.

    Carried into the Electricity Safety, Quality and Continuity Regulations 2002 (SI 2002/2665).
    """
    assert pytest.approx(NOMINAL_V * 0.94) == LOWEST_V == 216.2
    assert pytest.approx(NOMINAL_V * 1.10) == HIGHEST_V == 253.0


@pytest.mark.parametrize("circuit", demo_circuits().values(), ids=demo_circuits())
@pytest.mark.parametrize("supply_v", [LOWEST_V, HIGHEST_V])
def test_everything_works_alike_over_the_whole_band(circuit: Circuit, supply_v: float) -> None:
    """SI 1994/3021, the ends of the band: same parts moved, readings in proportion."""
    for inputs in telling_states(circuit):
        usual = solve_volts(circuit, inputs)
        result = solve_volts(circuit, inputs, supply_v=supply_v)
        assert (result.driven, result.fed, result.closed) == (usual.driven, usual.fed, usual.closed)
        for node, volts in usual.volts.items():
            assert abs(result.volts[node]) == pytest.approx(abs(volts) * supply_v / NOMINAL_V, abs=1e-6)


@pytest.mark.parametrize("circuit", demo_circuits().values(), ids=demo_circuits())
def test_neutral_to_earth_is_a_few_volts(circuit: Circuit) -> None:
    """Common practice, no source: a few volts are usual from neutral to earth, 15 V are not."""
    neutral, earth = incoming_neutral(circuit), incoming_earth(circuit)
    for inputs in telling_states(circuit):
        result = solve_volts(circuit, inputs)
        assert 0 <= readings(circuit, result, HIGH_IMPEDANCE, [neutral], to=earth)[neutral] < NEUTRAL_EARTH_V
