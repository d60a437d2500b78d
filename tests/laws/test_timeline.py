"""Laws of a simulated call: it ends where the all-state solver says, never before its time, whatever things are called."""

from itertools import pairwise, product

import pytest

from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.timeline import Moment, moment_in, run, simulate_call
from generator.views.shown_states import shown_states
from tests.stock import demo_circuits
from tests.three_port_houses import mid_position

CIRCUITS = {"mid-position": mid_position(), **demo_circuits()}
MOST_STATES = 8
"""Shown states of each house that every history is tried between."""


def _states(solution: Solution) -> list[int]:
    states = shown_states(solution.circuit)
    chosen = states if len(states) <= MOST_STATES else (*states[: MOST_STATES - 1], states[-1])
    return [solution.space.state(state.on) for state in chosen]


def _rests(solution: Solution, state: int) -> list[Moment]:
    return [moment_in(solution, answer, state) for answer in solution.answers if answer.at >> state & 1]


@pytest.mark.parametrize("name", CIRCUITS)
def test_ends_where_the_solver_says(name: str) -> None:
    circuit: Circuit = CIRCUITS[name]
    solution = solve(circuit)
    for start, end in product(_states(solution), repeat=2):
        if solution.hunting >> end & 1:
            continue
        wanted = [moment.driven for moment in _rests(solution, end)]
        for rest in _rests(solution, start):
            went = run(circuit, rest, [(0.0, solution.space.values(end))])
            assert went.quiet, (start, end)
            assert dict(went.end.driven) in wanted, (start, end)


@pytest.mark.parametrize("name", CIRCUITS)
def test_order_of_time(name: str) -> None:
    circuit: Circuit = CIRCUITS[name]
    solution = solve(circuit)
    for zone in circuit.zones:
        if not zone.call_inputs:
            continue
        call = simulate_call(solution, zone.call_inputs)
        assert call is not None
        changes = call.timeline.changes
        assert all(0 <= change.since_s <= change.at_s for change in changes)
        assert all(first.at_s <= second.at_s for first, second in pairwise(changes))
        assert call.timeline.end.driven == call.timeline.start.driven or solution.memories
        for part in {change.part for change in changes}:
            values = [change.on for change in changes if change.part == part]
            assert all(first != second for first, second in pairwise(values)), part
