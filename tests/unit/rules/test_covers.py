"""The shortest cover is held against every cover there is, on small spaces, and its limits against covers made by hand."""

from itertools import combinations

import pytest

from generator.rules.covers import Condition, Term, shortest_cover

EVERY = 0xFF
"""Three inputs: state 5 has the first and the third on."""
ON = {"a": 0b10101010, "b": 0b11001100, "c": 0b11110000}
SINGLE = tuple(
    condition
    for name, vector in ON.items()
    for condition in (
        Condition(f"{name} on", name, vector, 3),
        Condition(f"{name} off", name, EVERY & ~vector, 3),
    )
)
WITH_CALL = (
    Condition("calls", "zone", ON["a"] & ON["b"], 3),
    Condition("does not call", "zone", EVERY & ~(ON["a"] & ON["b"]), 4),
    *SINGLE,
)


def every_term(target: int, conditions: tuple[Condition, ...]) -> dict[int, int]:
    """The least cost of each vector within the target that conditions of different things give together."""
    costs: dict[int, int] = {}
    for count in range(1, 5):
        for chosen in combinations(conditions, count):
            vector = EVERY
            for condition in chosen:
                vector &= condition.vector
            if len({condition.about for condition in chosen}) == count and vector and not vector & ~target:
                cost = 2 + sum(condition.cost for condition in chosen)
                costs[vector] = min(cost, costs.get(vector, cost))
    return costs


def least_cost(target: int, conditions: tuple[Condition, ...]) -> int | None:
    costs = every_term(target, conditions)
    least: int | None = None
    for count in (1, 2, 3):
        for chosen in combinations(costs, count):
            covered = 0
            for vector in chosen:
                covered |= vector
            cost = sum(costs[vector] for vector in chosen)
            if covered == target and (least is None or cost < least):
                least = cost
    return least


@pytest.mark.parametrize("conditions", [SINGLE, WITH_CALL], ids=["inputs", "a call besides"])
def test_none_is_cheaper(conditions: tuple[Condition, ...]) -> None:
    for target in range(1, EVERY):
        terms = shortest_cover(target, conditions, EVERY)
        wanted = least_cost(target, conditions)
        assert (terms is None) == (wanted is None), target
        if terms is None:
            continue
        assert sum(term.cost for term in terms) == wanted, target
        covered = 0
        for term in terms:
            covered |= term.vector
            vector = EVERY
            for condition in term.conditions:
                vector &= condition.vector
            assert vector == term.vector
        assert covered == target


def test_more_than_three_alternatives_are_none() -> None:
    """An odd number on: four states that no two of them can be said together."""
    odd = sum(1 << state for state in range(8) if state.bit_count() % 2)
    assert shortest_cover(odd, SINGLE, EVERY) is None


def test_four_conditions_together_and_no_more() -> None:
    inputs = {
        count: tuple(
            Condition(str(index), str(index), sum(1 << s for s in range(1 << count) if s >> index & 1), 3)
            for index in range(count)
        )
        for count in (4, 5)
    }
    found = shortest_cover(1 << 15, inputs[4], (1 << 16) - 1)
    assert found == (Term(inputs[4], 1 << 15),)
    assert found[0].cost == 2 + 4 * 3
    assert shortest_cover(1 << 31, inputs[5], (1 << 32) - 1) is None


def test_of_two_equally_cheap_the_first_is_taken() -> None:
    alike = (Condition("one", "one", ON["a"], 3), Condition("other", "other", ON["a"], 3))
    assert shortest_cover(ON["a"], alike, EVERY) == (Term((alike[0],), ON["a"]),)
    assert shortest_cover(ON["a"], alike[::-1], EVERY) == (Term((alike[1],), ON["a"]),)


def test_no_condition_that_can_be_left_out() -> None:
    """What holds everywhere in what is left adds nothing."""
    wide = Condition("wide", "wide", ON["a"] | ON["b"], 0)
    found = shortest_cover(ON["a"], (wide, *SINGLE), EVERY)
    assert found is not None
    assert [[condition.name for condition in term.conditions] for term in found] == [["a on"]]
