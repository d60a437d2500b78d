"""Faults solved side by side, as words of bits, held against each faulted house stepped by itself, state by state."""

import pytest

from generator.catalogue.parts import InputKind
from generator.faults.every_fault import every_fault
from generator.faults.fault import SOUND
from generator.faults.simulate import Batch, simulate
from generator.states.solve import solve
from tests.second_method.stepped_house import Stepped, Works
from tests.second_method.walked_house import every_one
from tests.second_method.water_by_state import Water
from tests.stock import recorded_circuits

HOUSES = (
    "EB-0012",
    "EB-0019",
    "EB-0130",
    "EB-0138",
    "EB-0145",
    "EB-0149",
    "EB-0153",
    "EB-0160",
    "EB-0179",
    "EB-0183",
)
"""Two-port, combination, mid-position, diverter, gravity, underfloor with relays, a header, a wireless and a volt-free call."""


def results(works: Works, batch: Batch, at: int, unsure: int) -> dict[int, set[tuple[object, ...]]]:
    """What one fault gives by the bits of the inputs: the parts that are on, what is fed, which circuits are hot and move."""
    found: dict[int, set[tuple[object, ...]]] = {}
    size = batch.free.size
    for outcome in batch.outcomes[unsure if len(batch.outcomes) > 1 else 0]:
        here = outcome.answer.at >> at * size
        parts = [
            (works.bit[name], v >> at * size) for name, v in outcome.answer.on.items() if name in works.bit
        ]
        fed = [(works.load[name], v >> at * size) for name, v in outcome.answer.fed.items()]
        hot = [
            (
                f.circuit.name,
                (f.hot & (f.forward | f.gravity) & ~outcome.no_flow.get(f.circuit.name, 0)) >> at * size,
            )
            for f in outcome.water.flows
            if not f.circuit.source
        ]
        for state in range(size):
            if here >> state & 1:
                values = batch.free.values(state)
                inputs = works.normal | works.bits(name for name, on in values.items() if on)
                firing = sum(bit for bit, v in parts if v >> state & 1)
                result = (
                    firing,
                    sum(bit for bit, v in fed if v >> state & 1),
                    frozenset(name for name, v in hot if v >> state & 1),
                )
                found.setdefault(inputs, set()).add(result)
    return found


@pytest.mark.parametrize("unsure", [0, 1])
@pytest.mark.parametrize("name", HOUSES)
def test_side_by_side_is_one_by_one(name: str, unsure: int) -> None:
    circuit = recorded_circuits()[name]
    works = Works(circuit)
    water = Water(works)
    free = [works.bit[item.name] for item in circuit.called_inputs]
    faults = [each for each in (SOUND, *every_fault(solve(circuit))) if not each.latched]
    lever = next((i.name for i in circuit.inputs if i.kind is InputKind.LEVER), None)
    sets = [frozenset[str](), *([frozenset({lever})] if lever else [])]
    compared = 0
    for batch in simulate(circuit, faults, sets, free=()):
        assert isinstance(batch, Batch)
        for number, fault in enumerate(batch.faults):
            house = Stepped(works, fault)
            cold = sum(works.bit.get(f"{device}.firing", 0) for device in house.no_heat)
            cold |= sum(works.bit.get(f"{device}.heating-tap-water", 0) for device in house.no_heat)
            for position, levers in enumerate(sets):
                at = number * len(sets) + position
                said = results(works, batch, at, unsure)
                begin = works.normal | works.bits(levers) | (works.bit["unsure"] if unsure else 0)
                # Held here: a lever that a motor takes back is another case of the simulation.
                held = _drift_held(house, begin, free)
                stepped: dict[int, set[tuple[object, ...]]] = {}
                for state in held:
                    if len(house.rest(state)) == 1:
                        inputs = state & ~works.parts & ~works.bit["unsure"] & ~works.bits(levers)
                        result = (
                            state & works.parts & ~cold,
                            house.fed(state),
                            water.seen(house, state).right,
                        )
                        stepped.setdefault(inputs, set()).add(result)
                assert stepped == {k: v for k, v in said.items() if k in stepped}, (fault.name, levers)
                compared += len(stepped)
    assert compared >= len(faults)


def _drift_held(house: Stepped, begin: int, free: list[int]) -> set[int]:
    found = {end for state in every_one(begin, free) for end in house.rest(state)}
    waiting = list(found)
    while waiting:
        state = waiting.pop()
        for bit in free:
            for end in house.rest(state ^ bit):
                if end not in found:
                    found.add(end)
                    waiting.append(end)
    return found
