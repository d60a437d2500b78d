"""The all-state solver on small circuits whose answers can be worked out by hand."""

import pytest

from generator.states.solve import MOST_INPUTS, TooManyStates, solve
from generator.states.space import StateSpace, states_in
from generator.states.trace import why_fed
from tests.circuits import house

SPUR = {"spur": "fused-spur"}


def two_port(**changes: object) -> dict[str, object]:
    """One zone: timer, thermostat, valve, boiler with pump output."""
    wiring: dict[str, object] = {
        "devices": {
            "spur": "fused-spur",
            "programmer": ("programmer", {"channels": 1}),
            "thermostat": "room-thermostat",
            "valve": "two-port-valve",
            "boiler": ("boiler", {"pump_output": True}),
            "pump": "pump",
        },
        "conductors": [
            ("spur.L", "programmer.L", "BN"),
            ("spur.N", "programmer.N", "BU"),
            ("programmer.on-1", "thermostat.common", "BK"),
            ("thermostat.call", "valve.motor", "BN"),
            ("valve.N", "spur.N", "BU"),
            ("valve.switch-a", "spur.L", "GY"),
            ("valve.switch-b", "boiler.call", "OG"),
            ("boiler.L", "spur.L", "BN"),
            ("boiler.N", "spur.N", "BU"),
            ("boiler.pump", "pump.L", "GY"),
            ("pump.N", "spur.N", "BU"),
        ],
    }
    wiring.update(changes)
    return wiring


def test_boiler_is_called_only_while_timer_and_thermostat_call() -> None:
    solution = solve(house(**two_port()))  # type: ignore[arg-type]
    both = solution.space.where("programmer.channel-1") & solution.space.where("thermostat.calling")
    assert solution.settled.on["boiler.firing"] == both
    assert solution.settled.on["pump.running"] == both
    assert solution.hunting == 0
    assert solution.memories == ()
    assert solution.open_at == 0


def test_isolator_open_leaves_nothing_joined_to_line() -> None:
    circuit = house(**two_port())  # type: ignore[arg-type]
    solution = solve(circuit, {"spur.isolator": False})
    terminals = {place.ref for place in circuit.terminals}
    assert all(solution.settled.line[ref] == 0 for ref in terminals)


def test_pump_output_joined_to_switched_live_holds_itself_on_after_a_call() -> None:
    solution = solve(house(**two_port(links=[["boiler.pump", "boiler.call"]])))  # type: ignore[arg-type]
    rest = solution.space.state([])
    assert not solution.settled.on["boiler.firing"] >> rest & 1
    held = [memory for memory in solution.memories if memory.answer.at >> rest & 1]
    assert held, "after a call the boiler keeps itself called"
    assert all(memory.answer.on["boiler.firing"] >> rest & 1 for memory in held)
    assert {memory.after for memory in held} <= {"programmer.channel-1", "thermostat.calling"}


def test_relay_that_breaks_its_own_coil_hunts_while_fed() -> None:
    circuit = house(
        devices={**SPUR, "thermostat": "room-thermostat", "relay": "relay"},
        conductors=[
            ("spur.L", "thermostat.common", "BN"),
            ("thermostat.call", "relay.11", "BK"),
            ("relay.12", "relay.A1", "BN"),
            ("relay.A2", "spur.N", "BU"),
        ],
    )
    solution = solve(circuit)
    calling = solution.space.where("thermostat.calling")
    assert solution.hunting == calling
    assert solution.settled.at == solution.space.everywhere & ~calling


def test_relay_that_holds_itself_remembers() -> None:
    circuit = house(
        devices={**SPUR, "start": "room-thermostat", "relay": "relay"},
        conductors=[
            ("spur.L", "start.common", "BN"),
            ("start.call", "relay.A1", "BK"),
            ("relay.A2", "spur.N", "BU"),
            ("spur.L", "relay.11", "BN", "hold"),
            ("relay.14", "relay.A1", "BK", "hold-back"),
        ],
    )
    solution = solve(circuit)
    assert solution.settled.on["relay.pulled-in"] == solution.space.where("start.calling")
    (memory,) = solution.memories
    assert memory.after == "start.calling"
    assert memory.was_on
    assert list(states_in(memory.answer.at)) == [0]
    assert memory.answer.on["relay.pulled-in"] == 1


@pytest.mark.parametrize(
    ("lever", "made"), [("makes", {True}), ("does not make", {False}), ("unknown", {False, True})]
)
def test_latched_lever_opens_the_valve_and_may_make_its_switch(lever: str, made: set[bool]) -> None:
    wiring = two_port()
    wiring["devices"]["valve"] = ("two-port-valve", {"lever": lever})  # type: ignore[index]
    circuit = house(**wiring)  # type: ignore[arg-type]
    answers = [solve(circuit, {"valve.lever": True}, unsure=unsure).settled for unsure in (False, True)]
    assert all(answer.on["valve.open"] & 1 for answer in answers)
    assert {bool(answer.on["boiler.firing"] & 1) for answer in answers} == made


def test_trace_names_every_conductor_from_supply_to_load_and_back() -> None:
    circuit = house(**two_port())  # type: ignore[arg-type]
    solution = solve(circuit)
    demand = next(load for load in circuit.loads if load.name == "boiler.demand")
    trace = why_fed(circuit, solution.settled, solution.space.size - 1, demand)
    assert trace is not None
    assert [step.to for step in trace.out] == ["spur.L", "valve.switch-a", "valve.switch-b", "boiler.call"]
    assert [step.to for step in trace.back] == ["spur.N", "spur.mains-neutral"]
    assert why_fed(circuit, solution.settled, 0, demand) is None


def test_too_many_controls_are_refused_not_sampled() -> None:
    devices = {**SPUR, **{f"thermostat-{number}": "room-thermostat" for number in range(MOST_INPUTS + 1)}}
    with pytest.raises(TooManyStates, match="25 independent controls"):
        solve(house(devices=devices))


def test_state_space_turns_one_input() -> None:
    space = StateSpace(("a", "b", "c"))
    for name in space.inputs:
        for state in range(space.size):
            other = state ^ 1 << space.inputs.index(name)
            assert space.turned(1 << state, name) == 1 << other
