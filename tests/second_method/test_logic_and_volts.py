"""The two solvers held against each other: what the logic says is fed and moved, the volts must show.

They share the circuit only. The logic goes by metallic joins, the volts by impedances.
"""

import pytest

from generator.states.mains import NEUTRAL_EARTH_V
from generator.states.solve import solve
from generator.states.volts import solve_volts
from generator.states.volts_meter import HIGH_IMPEDANCE, incoming_neutral, readings
from tests.second_method.states import called_states, history_states
from tests.stock import demo_circuits

FED_V = 200
"""A node that metal joins to a line, and to neither neutral nor earth, reads more than this to neutral."""


@pytest.mark.parametrize("unsure", [False, True])
@pytest.mark.parametrize("name", demo_circuits())
def test_both_solvers_agree_wherever_both_speak(name: str, unsure: bool) -> None:
    circuit = demo_circuits()[name]
    solution = solve(circuit, unsure=unsure)
    settled, space = solution.settled, solution.space
    for inputs in called_states(circuit):
        bit = 1 << space.state(name for name, value in inputs.items() if value)
        result = solve_volts(circuit, inputs, unsure=unsure)
        assert result.settled is bool(settled.at & bit)
        if not result.settled or result.uncertain:
            continue
        assert result.driven == {part: bool(vector & bit) for part, vector in settled.on.items()}
        assert result.fed == {load: bool(vector & bit) for load, vector in settled.fed.items()}
        assert set(result.closed) == {contact for contact, vector in settled.made.items() if vector & bit}


@pytest.mark.parametrize("unsure", [False, True])
def test_every_history_rests_where_it_is_said_to(unsure: bool) -> None:
    """Started from what the all-state solver says rests there, the volts change nothing."""
    tried = 0
    for circuit in demo_circuits().values():
        for state in history_states(circuit, unsure=unsure):
            assert state.result.settled
            assert state.result.driven == state.start
            tried += 1
    assert tried, "no house of the stock has a result that depends on what came before"


@pytest.mark.parametrize("name", demo_circuits())
def test_what_metal_joins_to_a_line_reads_the_supply(name: str) -> None:
    circuit = demo_circuits()[name]
    solution = solve(circuit)
    settled, space = solution.settled, solution.space
    for inputs in called_states(circuit):
        bit = 1 << space.state(name for name, value in inputs.items() if value)
        shown = readings(
            circuit,
            solve_volts(circuit, inputs),
            HIGH_IMPEDANCE,
            circuit.nodes,
            to=incoming_neutral(circuit),
        )
        for node, volts in shown.items():
            on_line, on_return = settled.line[node] & bit, (settled.neutral[node] | settled.earth[node]) & bit
            if on_line and not on_return:
                assert volts > FED_V
            if on_return and not on_line:
                assert volts < NEUTRAL_EARTH_V
