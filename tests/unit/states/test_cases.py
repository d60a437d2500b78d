"""Variants solved side by side, each in its block of states; and how many states are refused."""

from dataclasses import replace

import pytest

from generator.catalogue.logic import Any, Is
from generator.circuit.model import Circuit
from generator.states.solve import Cases, TooManyStates, left_open, solve
from tests.circuits import Wire, house

ON = {"first": [0], "second": [1, 3], "last": [4], "all": range(5), "none": []}


@pytest.mark.parametrize("block", [1, 2, 4, 8, 16, 32])
def test_a_case_takes_its_block_of_states(block: int) -> None:
    cases = Cases(count=5, on=ON)
    for name, chosen in ON.items():
        vector = cases.where(name, block)
        assert [state for state in range(8 * block) if vector >> state & 1] == [
            case * block + at for case in chosen for at in range(block)
        ]


def test_many_cases_are_put_together_in_one_go() -> None:
    """Every other one of 16,384 cases of 1,024 states."""
    cases = Cases(count=1 << 14, on={"even": range(0, 1 << 14, 2)})
    vector = cases.where("even", 1 << 10)
    assert vector.bit_count() == 1 << 23
    assert vector.bit_length() == (1 << 24) - (1 << 10)


@pytest.mark.parametrize(("count", "bits"), [(1, 0), (2, 1), (3, 2), (4, 2), (5, 3), (8, 3), (9, 4)])
def test_bits_that_number_the_cases(count: int, bits: int) -> None:
    assert Cases(count=count, on={}).bits == bits


def held_relay(contact: str = "call") -> Circuit:
    """A relay that a thermostat pulls in and that then holds itself."""
    wires: list[Wire] = [
        ("spur.L", "start.common", "BN"),
        (f"start.{contact}", "relay.A1", "BK"),
        ("relay.A2", "spur.N", "BU"),
        ("spur.L", "relay.11", "BN", "hold"),
        ("relay.14", "relay.A1", "BK", "hold-back"),
    ]
    start = ("room-thermostat", {"satisfied_terminal": True})
    return house(devices={"spur": "fused-spur", "start": start, "relay": "relay"}, conductors=wires)


def bridged(circuit: Circuit) -> Circuit:
    """The contact of the thermostat made in some cases whatever the thermostat does."""
    return replace(
        circuit,
        contacts=tuple(
            replace(item, when=Any((item.when, Is("bridged")))) if item.name == "start.call" else item
            for item in circuit.contacts
        ),
    )


def test_variants_side_by_side() -> None:
    """As it is, bridged, as it is: of two states each, not calling first. One input, two bits for three cases."""
    solution = solve(bridged(held_relay()), cases=Cases(count=3, on={"bridged": [1]}))
    assert solution.space.inputs == ("start.calling", "case bit 0", "case bit 1")
    assert solution.settled.on["relay.pulled-in"] & 0b11_11_11 == 0b10_11_10
    assert solution.hunting == 0
    # Held after a call in the first and the third case; in the second the relay is never at rest. No other history:
    # the cases are no inputs, so none leads from one to another.
    assert solution.open_at & 0b11_11_11 == 0b01_00_01
    held = [memory for memory in solution.memories if memory.answer.at & 0b11_11_11]
    assert {memory.after for memory in held} == {"start.calling"}
    assert sum(memory.answer.at & 0b11_11_11 for memory in held) == 0b01_00_01


def test_states_that_only_a_search_can_settle() -> None:
    circuit = bridged(held_relay())
    assert left_open(circuit, unsure=False, cases=Cases(count=2, on={"bridged": [1]})) == 0b00_01
    assert left_open(circuit, unsure=False, cases=Cases(count=2, on={"bridged": [0, 1]})) == 0
    assert left_open(circuit, unsure=False, cases=Cases(count=1, on={"bridged": []})) == 0b01


def test_what_is_remembered_after_an_input_goes_on() -> None:
    """Started by the satisfied side: a relay that is held while the thermostat calls, once it did not."""
    solution = solve(held_relay("satisfied"))
    assert solution.settled.on["relay.pulled-in"] == 0b01
    (memory,) = solution.memories
    assert (memory.after, memory.was_on) == ("start.calling", False)
    assert memory.answer.at == memory.answer.on["relay.pulled-in"] == 0b10


def test_a_relay_that_nothing_starts_remembers_nothing() -> None:
    circuit = held_relay()
    circuit = replace(
        circuit, conductors=tuple(c for c in circuit.conductors if "start.call" not in (c.a, c.b))
    )
    solution = solve(circuit)
    assert solution.settled.on["relay.pulled-in"] == 0
    assert solution.settled.at == solution.open_at == solution.space.everywhere
    assert solution.memories == ()
    assert solution.hunting == 0


def relays(count: int, *, pumps: int = 0) -> Circuit:
    """Relays that would hold themselves, one that does as a thermostat says, and pumps on the coil of the first."""
    wires: list[Wire] = [
        ("spur.L", "start.common", "BN", "start"),
        ("start.call", "plain.A1", "BK", "start"),
        ("plain.A2", "spur.N", "BU", "start"),
    ]
    names = [f"relay-{number}" for number in range(count)]
    for name in names:
        wires += [
            ("spur.L", f"{name}.11", "BN", name),
            (f"{name}.14", f"{name}.A1", "BK", name),
            (f"{name}.A2", "spur.N", "BU", name),
        ]
    for number in range(pumps):
        pump = f"pump-{number}"
        wires += [("relay-0.A1", f"{pump}.L", "BN", pump), (f"{pump}.N", "spur.N", "BU", pump)]
    return house(
        devices={
            "spur": "fused-spur",
            "start": "room-thermostat",
            "plain": "relay",
            **dict.fromkeys(names, "relay"),
            **{f"pump-{number}": "pump" for number in range(pumps)},
        },
        conductors=wires,
    )


def test_only_so_many_parts_with_memory_are_searched(monkeypatch: pytest.MonkeyPatch) -> None:
    """Parts that are known, and parts that nothing goes by, do not count."""
    with pytest.raises(TooManyStates, match="9 parts with memory; every state can be solved up to 8,"):
        solve(relays(9))
    monkeypatch.setattr("generator.states.solve.MOST_MEMORY", 2)
    assert solve(relays(2, pumps=2)).memories == ()
    with pytest.raises(TooManyStates, match="3 parts with memory"):
        solve(relays(3))


def test_bits_of_the_cases_count_as_inputs(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("generator.states.solve.MOST_INPUTS", 3)
    circuit = bridged(held_relay())
    assert solve(circuit, cases=Cases(count=4, on={"bridged": [3]})).space.size == 8
    with pytest.raises(TooManyStates, match="4 independent controls"):
        solve(circuit, cases=Cases(count=5, on={"bridged": [3]}))
    with pytest.raises(TooManyStates):
        left_open(circuit, unsure=False, cases=Cases(count=5, on={"bridged": [3]}))
