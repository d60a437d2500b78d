"""The benchmark runs and its rivals agree with it; how long anything takes is no matter of a test."""

import re

import pytest

from generator.command.bench import made_up_house
from generator.command.bench_methods import Positions
from generator.states.solve import solve
from tests.unit.command.conftest import Run


@pytest.mark.simulator
def test_every_way_agrees(run: Run) -> None:
    done = run("bench", "solver", "--zones", "2", "--sample", "9")
    assert done.exit_code == 0
    assert "2 heating zones" in done.stdout
    assert "16 states" in done.stdout
    assert "every state settled" in done.stdout
    rows = re.findall(r"^(our volts|networkx|ngspice)\D*?(\d+) .* (\d+)$", done.stdout, re.MULTILINE)
    assert rows == [("our volts", "9", "9"), ("networkx", "9", "9"), ("ngspice", "9", "9")]


def test_ways_that_are_not_installed_are_said_to_be(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", "")
    done = run("bench", "solver", "--zones", "1", "--sample", "2")
    assert done.exit_code == 0
    assert re.search(r"^ngspice.* not installed", done.stdout, re.MULTILINE)


@pytest.mark.parametrize("zones", [1, 5, 12])
def test_the_house_made_up_for_it_is_sound(zones: int) -> None:
    circuit = made_up_house(zones)
    assert len(circuit.called_inputs) == 2 * zones
    assert len(circuit.zones) == zones


def test_values_of_single_states_out_of_vectors() -> None:
    solution = solve(made_up_house(3))
    made = Positions(solution.settled.made, solution.space.size)
    for state in range(solution.space.size):
        assert made(state) == {name: bool(v >> state & 1) for name, v in solution.settled.made.items()}


def test_more_zones_than_fit_are_refused(run: Run) -> None:
    assert run("bench", "solver", "--zones", "13").exit_code == 2
