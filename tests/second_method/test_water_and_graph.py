"""Where water goes, found again state by state with a graph library: a pipe carries water if it lies on a ring with a pump."""

from collections.abc import Iterator

import networkx as nx
import pytest

from generator.states.answer import Answer
from generator.states.solve import solve
from generator.states.space import states_in
from generator.states.water import water_answer
from generator.states.water_graph import Branch, BranchKind, water_branches
from tests.stock import demo_circuits

MOST_STATES = 256
"""States of each circuit that are walked one by one; they are spread evenly."""


def _open(branches: tuple[Branch, ...], answer: Answer, state: int) -> Iterator[Branch]:
    for branch in branches:
        if branch.kind is not BranchKind.BYPASS and (
            not branch.opens or answer.on[branch.opens] >> state & 1
        ):
            yield branch


def _passable(branch: Branch, pump: Branch, header: bool) -> bool:
    """Whether water of a pump may go through a branch.

    The pump of one circuit would draw through another one backwards: a check valve forbids it, and a header is the
    easier way. With a header no pump but its own drives a circuit that has one.
    """
    if branch is pump or branch.kind is not BranchKind.CIRCUIT:
        return True
    if pump.kind is BranchKind.CIRCUIT:
        return not branch.checked and not header
    return not (header and branch.pumps)


def _flowing(branches: tuple[Branch, ...], answer: Answer, state: int) -> tuple[set[str], bool]:
    """The circuits that lie on a ring with a running pump, and whether some running pump lies on none."""
    header = any(branch.kind is BranchKind.HEADER for branch in branches)
    flowing: set[str] = set()
    stuck = False
    for pump in branches:
        if not any(answer.fed[load] >> state & 1 for load in pump.pumps):
            continue
        graph = nx.Graph()
        by_middle: dict[str, Branch] = {}
        for number, branch in enumerate(_open(branches, answer, state)):
            if not _passable(branch, pump, header):
                continue
            # A point in the middle of every pipe keeps parallel pipes apart.
            middle = f"pipe {number}"
            graph.add_edge(branch.start, middle)
            graph.add_edge(middle, branch.end)
            by_middle[middle] = branch
        here = [name for name, branch in by_middle.items() if branch is pump]
        rings = [set(block) for block in nx.biconnected_components(graph) if len(block) > 2]
        mine = [ring for ring in rings if not ring.isdisjoint(here)]
        stuck = stuck or not mine
        for ring in mine:
            here_too = [by_middle[point] for point in ring if point in by_middle]
            flowing |= {branch.name for branch in here_too if branch.kind is BranchKind.CIRCUIT}
    return flowing, stuck


def _with_pump_and_circuits() -> list[str]:
    return [
        name
        for name, circuit in demo_circuits().items()
        if circuit.water.circuits and any(branch.pumps for branch in water_branches(circuit))
    ]


@pytest.mark.parametrize("name", _with_pump_and_circuits())
def test_same_water(name: str) -> None:
    circuit = demo_circuits()[name]
    solution = solve(circuit)
    branches = water_branches(circuit)
    for answer in solution.answers:
        water = water_answer(solution, answer)
        count = answer.at.bit_count()
        for index, state in enumerate(states_in(answer.at)):
            if index % max(1, count // MOST_STATES):
                continue
            flowing, stuck = _flowing(branches, answer, state)
            for flow in water.flows:
                moved = bool((flow.forward | flow.backward) >> state & 1)
                assert moved == (flow.circuit.name in flowing), (flow.circuit.name, state)
            assert bool(water.shut >> state & 1) == stuck, state
