"""Every instruction of every demo property, followed by a second program as a tenant would: zero failures, and how many were tried."""

from datetime import date
from functools import cache

import pytest

from generator.faults.every_fault import every_fault
from generator.faults.fault import Fault
from generator.overrides.model import Overrides
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import Examination, examine
from tests.second_method.override_plans import PlanWalk
from tests.second_method.override_walk import Count
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 25)
RECORDS = tuple(sorted(file.stem for file in PROPERTIES.glob("*.yaml")))
POLICIES = {"levers refused": Policy(), "with a warning": Policy(vented_lever="with a warning")}
LARGE = 7
"""From so many free controls on, a part of the faults behind each symptom is followed; `tests.tools.walk_overrides` follows all."""
SMALL = ("EB-0012", "EB-0019", "EB-0130", "EB-0183", "FW-01")
"""Houses in which every other set of steps is tried: up to 4 free controls and 2 levers."""


@cache
def examined(name: str) -> Examination:
    return examine(PROPERTIES / f"{name}.yaml", today=TODAY)


def some(found: Overrides, every: int) -> set[str]:
    """Every so-many-th fault behind each symptom."""
    return {name for each in found.instructions for name in each.proof.faults[::every]}


def walked(
    name: str, policy: Policy, *, whole: bool = False, shorter: bool = False
) -> tuple[Count, list[str]]:
    """What was gone through, and what went wrong.

    Args:
        name: the property.
        policy: the firm's choices.
        whole: every fault even in a large house.
        shorter: try every other set of steps as well.
    """
    return walked_house(examined(name), policy, whole=whole, shorter=shorter)


def walked_house(
    seen: Examination, policy: Policy, *, whole: bool = False, shorter: bool = False
) -> tuple[Count, list[str]]:
    """The same for a house that was examined before."""
    found = overrides(seen.solution, seen.findings, policy)
    total, wrong = Count(), list[str]()
    if seen.circuit is None or seen.solution is None:
        return total, wrong
    free = len(seen.circuit.called_inputs)
    faults: tuple[Fault, ...] = every_fault(seen.solution)
    only = None if whole or free < LARGE else some(found, 8 if free < LARGE + 2 else 60)
    perhaps: dict[str, bool] = {}
    better: list[set[str]] = []
    for unsure in (False, True):
        walk = PlanWalk(seen.circuit, found, policy, faults, unsure=unsure)
        if shorter:
            better.append(walk.shorter())
        else:
            walk.all(only)
            if only is None:
                walk.all_plans()
        total.add(walk.count)
        wrong += walk.wrong
        for claim, holds in walk.perhaps.items():
            perhaps[claim] = perhaps.get(claim, False) or holds
    wrong += sorted(set.intersection(*better)) if better else []
    wrong += [f"{claim} helps with neither kind of lever" for claim, holds in perhaps.items() if not holds]
    return total, wrong


@pytest.mark.parametrize("policy", POLICIES)
@pytest.mark.parametrize("name", RECORDS)
def test_every_instruction_does_what_it_says_and_harms_nobody(name: str, policy: str) -> None:
    total, wrong = walked(name, POLICIES[policy])
    print(f"{name}, {policy}: {total}")
    assert not wrong, "\n".join(wrong)


@pytest.mark.parametrize("name", SMALL)
def test_no_shorter_steps_are_safe(name: str) -> None:
    total, wrong = walked(name, POLICIES["with a warning"], shorter=True)
    print(f"{name}: {total.shorter} other sets of steps")
    assert total.shorter > 0
    assert not wrong, "\n".join(wrong)
