"""Where a pump runs and where a bypass flows, over all states of the example house."""

from dataclasses import replace

from generator.circuit.model import Circuit
from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, TODAY, change, moved
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.water import water_answer

ALWAYS = moved(HOUSE, "- { to: pump.L, core: BN }", after="- { to: spur.L, core: BN }")


def solved(text: str) -> Solution:
    solution = examine_text(text, today=TODAY).solution
    assert solution is not None
    return solution


def test_a_pump_runs_where_it_is_fed() -> None:
    solution = solved(HOUSE)
    water = water_answer(solution, solution.settled)
    (fed,) = (
        solution.settled.fed[load.name] for load in solution.circuit.loads if load.name.startswith("pump.")
    )
    assert water.running == fed == water.hot
    assert 0 < water.running < solution.space.everywhere


def test_a_bypass_flows_where_every_valve_is_shut() -> None:
    solution = solved(ALWAYS)
    water = water_answer(solution, solution.settled)
    shut = solution.space.everywhere & ~(
        solution.settled.on["water-valve.open"] | solution.settled.on["heating-valve.open"]
    )
    assert water.running == solution.space.everywhere
    assert (water.shut, water.bypass, water.dead_head) == (shut, shut, 0)


def test_without_a_bypass_there_is_no_way() -> None:
    solution = solved(change(ALWAYS, ("  bypass: bypass\n", "  bypass: none\n")))
    water = water_answer(solution, solution.settled)
    assert water.dead_head == water.shut
    assert water.shut.bit_count() == 9
    assert water.bypass == 0


def test_vectors_keep_to_the_states_of_the_answer() -> None:
    """In states that belong to another answer nothing is told."""
    solution = solved(ALWAYS)
    half = solution.space.where(solution.space.inputs[0])
    water = water_answer(solution, replace(solution.settled, at=half))
    for vector in (water.running, water.shut, water.bypass, water.hot, *(flow.flows for flow in water.flows)):
        assert vector & ~half == 0


def test_a_hand_set_bypass_flows_while_the_pump_runs() -> None:
    circuit: Circuit = solved(ALWAYS).circuit
    solution = solve(replace(circuit, water=replace(circuit.water, bypass="fixed")))
    water = water_answer(solution, solution.settled)
    assert water.bypass == water.running
