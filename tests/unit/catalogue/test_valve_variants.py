"""Two-port valves with other switches and other mechanisms, in small circuits worked out by hand."""

from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.solve import solve
from tests.circuits import house

SPUR_AND_SWITCH = {"spur": "fused-spur", "switch": "room-thermostat"}


def one_valve(settings: dict[str, object]) -> Circuit:
    """A valve on one switch, its end switch fed from the spur, with a boiler on orange."""
    switched = settings.get("end_switch") != "none"
    return house(
        devices={
            **SPUR_AND_SWITCH,
            "valve": ("two-port-valve", {"lever": "none", **settings}),
            "boiler": ("boiler", {"permanent_live": False}),
        },
        conductors=[
            ("spur.L", "switch.common", "BN"),
            ("switch.call", "valve.motor", "BN"),
            ("valve.N", "spur.N", "BU"),
            ("boiler.N", "spur.N", "BU"),
            *(
                [("valve.switch-a", "spur.L", "GY"), ("valve.switch-b", "boiler.call", "OG")]
                if switched
                else []
            ),
        ],
    )


def calling(solution: Solution) -> int:
    return solution.space.where("switch.calling")


def test_normally_open_valve_is_shut_by_its_motor() -> None:
    solution = solve(one_valve({"rests": "open"}))
    everywhere = solution.space.everywhere
    assert solution.settled.on["valve.open"] == everywhere & ~calling(solution)
    assert solution.settled.on["boiler.firing"] == everywhere & ~calling(solution)
    assert solution.memories == ()


def test_normally_open_valve_has_no_lever() -> None:
    valve = house(devices={"valve": ("two-port-valve", {"rests": "open", "lever": "makes"})}).device("valve")
    assert valve.parts.inputs == ()
    assert valve.parts.controls == ()


def test_valve_without_end_switch_has_no_switch_cores() -> None:
    circuit = one_valve({"end_switch": "none"})
    names = [terminal.name for terminal in circuit.device("valve").parts.terminals]
    assert names == ["motor", "N", "E"]
    solution = solve(circuit)
    assert solution.settled.on["valve.open"] == calling(solution)


def test_change_over_end_switch_joins_white_while_shut() -> None:
    for joins, live in (("orange", False), ("grey", True)):
        circuit = one_valve({"end_switch": "change-over", "white_joins": joins})
        solution = solve(circuit)
        shut = solution.space.everywhere & ~calling(solution)
        assert solution.settled.made["valve.end-switch"] == calling(solution)
        assert solution.settled.made["valve.end-switch-shut"] == shut
        assert solution.settled.line["valve.switch-c"] == (shut if live else 0)


def test_lamp_lights_with_the_motor_or_with_the_switch() -> None:
    for lamp in ("motor", "switch"):
        solution = solve(one_valve({"lamp": lamp}))
        assert solution.settled.fed["valve.lamp"] == calling(solution)
    without = one_valve({"lamp": "switch", "end_switch": "none"})
    assert [load.name for load in without.loads if load.name == "valve.lamp"] == []


def driven_both_ways() -> Circuit:
    """A valve without a spring on two switches."""
    return house(
        devices={
            "spur": "fused-spur",
            "opener": "room-thermostat",
            "closer": "room-thermostat",
            "valve": "motor-open-motor-close-valve",
        },
        conductors=[
            ("spur.L", "opener.common", "BN"),
            ("spur.L", "closer.common", "BN", "second"),
            ("opener.call", "valve.open", "BN"),
            ("closer.call", "valve.close", "BK"),
            ("valve.N", "spur.N", "BU"),
        ],
    )


def test_valve_without_spring_stays_where_it_is() -> None:
    solution = solve(driven_both_ways())
    space = solution.space
    opening, closing, nothing = (space.state(on) for on in (["opener.calling"], ["closer.calling"], []))
    assert solution.settled.on["valve.open"] >> opening & 1
    assert not solution.settled.on["valve.open"] >> closing & 1
    assert not solution.settled.on["valve.open"] >> nothing & 1
    (memory,) = solution.memories
    assert memory.answer.at == 1 << nothing
    assert memory.answer.on["valve.open"] >> nothing & 1
    assert (memory.after, memory.was_on) == ("opener.calling", True)


def test_valve_without_spring_takes_power_only_while_it_moves() -> None:
    solution = solve(driven_both_ways())
    for answer in solution.answers:
        assert answer.fed["valve.opening"] & answer.at == 0
        assert answer.fed["valve.closing"] & answer.at == 0


def test_valve_without_spring_never_rests_with_both_live() -> None:
    solution = solve(driven_both_ways())
    assert solution.hunting == 1 << solution.space.state(["opener.calling", "closer.calling"])


def test_lever_of_a_mid_position_valve_opens_both_ports() -> None:
    for lever, first_switch in (("does not make", 0), ("makes", 1)):
        circuit = house(
            devices={
                **SPUR_AND_SWITCH,
                "valve": ("three-port-mid-position-valve", {"lever": lever}),
            },
            conductors=[("valve.N", "spur.N", "BU")],
        )
        settled = solve(circuit, {"valve.lever": True}).settled
        assert settled.on["valve.open-heating"] & 1
        assert settled.on["valve.open-water"] & 1
        assert settled.on["valve.past-1"] & 1 == first_switch


def test_lever_of_a_diverter_valve_opens_both_ports() -> None:
    circuit = house(devices={"spur": "fused-spur", "valve": "three-port-diverter-valve"})
    settled = solve(circuit, {"valve.lever": True}).settled
    assert settled.on["valve.open-heating"] & settled.on["valve.open-water"] & 1
