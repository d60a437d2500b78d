"""Laws of every solved circuit: random circuits and the demo houses, states and loads drawn at random."""

import random
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.catalogue.parts import InputKind
from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.trace import why_fed
from tests.laws.test_components import circuits
from tests.stock import recorded_circuits
from tests.stock_expectations import FAULTY

NAMES = tuple(recorded_circuits())
SOUND = tuple(name for name in NAMES if name not in FAULTY)
FEW_INPUTS = tuple(name for name in NAMES if len(recorded_circuits()[name].called_inputs) <= 8)


def isolators(circuit: Circuit) -> list[str]:
    """Every isolator of a house."""
    return [item.name for item in circuit.inputs if item.kind is InputKind.ISOLATOR]


@pytest.mark.parametrize("name", NAMES)
def test_with_every_isolator_open_nothing_is_live(name: str) -> None:
    circuit = recorded_circuits()[name]
    off = solve(circuit, dict.fromkeys(isolators(circuit), False))
    terminals = [place.ref for place in circuit.terminals]
    for answer in off.answers:
        assert [ref for ref in terminals if answer.line[ref] & answer.at] == []


@pytest.mark.parametrize("name", NAMES)
def test_with_one_isolator_open_only_another_supply_makes_anything_live(name: str) -> None:
    circuit = recorded_circuits()[name]
    for isolator in isolators(circuit):
        device = isolator.split(".", 1)[0]
        own = [supply.line for supply in circuit.supplies if supply.name.split(".", 1)[0] == device]
        off = solve(circuit, {isolator: False})
        for answer in off.answers:
            for line in own:
                live = [p.ref for p in circuit.terminals if answer.joined[line][p.ref] & answer.at]
                assert live == [], f"{isolator} is open and {line} still reaches them"


@pytest.mark.parametrize("name", SOUND)
def test_earth_never_joins_line_or_a_lone_neutral_in_a_sound_house(name: str) -> None:
    """At normal, and with each lever, cut-out and overrun moved."""
    circuit = recorded_circuits()[name]
    moved = [None, *(item for item in circuit.inputs if item.normal is not None)]
    for item in moved:
        held = {} if item is None else {item.name: not item.normal}
        for unsure in (False, True):
            for answer in solve(circuit, held, unsure=unsure).answers:
                for place in circuit.terminals:
                    joined = answer.earth[place.ref] & answer.line[place.ref] & answer.at
                    assert joined == 0, f"{place.ref} with {held}"


def settled_part(solution: Solution) -> object:
    """What is answered from rest, by name; which history was met first is left out."""
    answer = solution.settled
    return (
        answer.at,
        solution.hunting,
        dict(answer.line),
        dict(answer.neutral),
        dict(answer.earth),
        dict(answer.fed),
        dict(answer.on),
    )


def shuffled(circuit: Circuit, dice: random.Random) -> Circuit:
    """The circuit with its lists in another order; inputs stay, since they number the states."""

    def other(items: tuple[object, ...]) -> tuple[object, ...]:
        mixed = list(items)
        dice.shuffle(mixed)
        return tuple(mixed)

    lists = ("conductors", "contacts", "loads", "driven", "terminals", "supplies", "inner")
    changes: dict[str, Any] = {name: other(getattr(circuit, name)) for name in lists}
    return replace(circuit, **changes)


@given(circuit=circuits(), seed=st.integers(0, 2**32))
def test_order_of_lists_changes_nothing_in_random_circuits(circuit: Circuit, seed: int) -> None:
    assert settled_part(solve(shuffled(circuit, random.Random(seed)))) == settled_part(solve(circuit))  # noqa: S311


@pytest.mark.parametrize("name", NAMES)
def test_order_of_lists_changes_nothing_in_the_demo_houses(name: str) -> None:
    circuit = recorded_circuits()[name]
    expected = settled_part(solve(circuit))
    for seed in range(3):
        assert settled_part(solve(shuffled(circuit, random.Random(seed)))) == expected  # noqa: S311


@given(name=st.sampled_from(FEW_INPUTS), data=st.data())
def test_opening_every_trace_leaves_a_load_without_feed(name: str, data: st.DataObject) -> None:
    """Cut a conductor of whatever way feeds the load, until there is no way: then nothing feeds it."""
    circuit = recorded_circuits()[name]
    solution = solve(circuit)
    load = data.draw(st.sampled_from(circuit.loads))
    states = [n for n in range(solution.space.size) if solution.settled.fed[load.name] >> n & 1]
    if not states:
        return
    number = data.draw(st.sampled_from(states))
    for _ in range(len(circuit.conductors) + 1):
        solution = solve(circuit)
        trace = why_fed(circuit, solution.settled, number, load)
        fed = solution.settled.fed[load.name] >> number & 1
        assert bool(fed) == (trace is not None)
        if trace is None:
            return
        on_the_way = [step.conductor for step in (*trace.out, *trace.back) if step.conductor]
        assert on_the_way, "a load inside a supply needs no conductor"
        cut = data.draw(st.sampled_from(on_the_way))
        circuit = replace(circuit, conductors=tuple(c for c in circuit.conductors if c.index != cut.index))
    pytest.fail("every conductor was cut and the load is still fed")
