"""Laws of every instruction: random sound houses, a random choice of the firm; nobody is hurt, and names change nothing.

A second program follows the steps; it shares only the circuit and the list of faults.
"""

import os
import subprocess
import sys
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.faults.every_fault import every_fault
from generator.overrides.overrides import searched
from generator.overrides.policy import Policy
from generator.states.solve import solve
from tests.second_method.override_walk import Walk
from tests.short_circuits import short_circuits
from tests.stock import two_port
from tests.tools.paths import ROOT

POLICIES = st.sampled_from([Policy(), Policy(vented_lever="with a warning", lever_hours=4)])


@st.composite
def zones(draw: st.DrawFn) -> dict[str, str]:
    """One to three zones, with or without hot water."""
    names = draw(st.permutations(["hall", "up", "loft"]))[: draw(st.integers(1, 2))]
    uses = dict.fromkeys(names, "heating")
    return uses | ({"tank": "hot water"} if draw(st.booleans()) else {})


@settings(max_examples=12)
@given(
    serves=zones(),
    fed=st.sampled_from(["GY", "OG"]),
    overrun=st.booleans(),
    relay=st.booleans(),
    lever=st.sampled_from(["makes", "does not make", "unknown"]),
    policy=POLICIES,
    part=st.integers(2, 5),
)
def test_no_instruction_of_a_random_house_hurts(
    serves: dict[str, str], fed: str, overrun: bool, relay: bool, lever: str, policy: Policy, part: int
) -> None:
    circuit = two_port(
        serves, fed_core=fed, overrun=overrun and not relay, relay=relay, valve={"lever": lever}
    )
    circuit = replace(circuit, devices=tuple(replace(each, reach="tenant") for each in circuit.devices))
    solution = solve(circuit)
    found = searched(solution, policy)
    faults = every_fault(solution)
    only = {name for each in found.instructions for name in each.proof.faults[::part]}
    for unsure in (False, True):
        walk = Walk(circuit, found, policy, faults, unsure=unsure)
        walk.all(only)
        assert walk.wrong == []


@pytest.mark.slow
@settings(max_examples=8)
@given(name=st.sampled_from(sorted(short_circuits())), policy=POLICIES, part=st.integers(6, 11))
def test_no_instruction_of_any_arrangement_hurts(name: str, policy: Policy, part: int) -> None:
    circuit = short_circuits()[name]
    circuit = replace(circuit, devices=tuple(replace(each, reach="tenant") for each in circuit.devices))
    solution = solve(circuit)
    found = searched(solution, policy)
    only = {name for each in found.instructions for name in each.proof.faults[::part]}
    for unsure in (False, True):
        walk = Walk(circuit, found, policy, every_fault(solution), unsure=unsure)
        walk.all(only)
        assert walk.wrong == []


def test_names_change_nothing_but_names() -> None:
    """A house with its zones named the other way round in the alphabet gives the same answer, with the names put back."""
    first = {"amber": "heating", "blue": "heating", "coral": "hot water"}
    second = {"zebra": "heating", "yak": "heating", "xenon": "hot water"}
    pairs = list(zip(first, second, strict=True))
    policy = Policy(vented_lever="with a warning")
    one = repr(searched(solve(two_port(first)), policy))
    other = repr(searched(solve(two_port(second)), policy))
    for old, new in pairs:
        other = other.replace(new, old).replace(new.capitalize(), old.capitalize())
    assert one == other


_PRINT = """
from generator.overrides.overrides import searched
from generator.overrides.policy import Policy
from generator.states.solve import solve
from tests.stock import two_port
print(searched(solve(two_port({"up": "heating", "down": "heating", "tank": "hot water"})), Policy()))
"""


def test_the_same_whatever_the_order_of_a_hash() -> None:
    shown = [
        subprocess.run(
            [sys.executable, "-c", _PRINT],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=ROOT,
            check=True,
            capture_output=True,
        ).stdout
        for seed in ("0", "4711")
    ]
    assert shown[0] == shown[1]
