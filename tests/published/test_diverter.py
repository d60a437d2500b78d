"""The three-port diverter valve against the published table of calls: hot water first.

The source of the table is web pages of the trade alone: common practice, no source.
"""

import pytest

from generator.circuit.model import Circuit
from generator.states.solve import solve
from tests.circuits import house
from tests.three_port import A, B, is_live, position


def diverter() -> Circuit:
    """The cylinder thermostat's common is on the boiler's line; its satisfied side drives the valve."""
    return house(
        devices={
            "spur": "fused-spur",
            "programmer": ("programmer", {"channels": 2}),
            "room": "room-thermostat",
            "tank": "cylinder-thermostat",
            "valve": ("three-port-diverter-valve", {"lever": "none"}),
            "boiler": ("boiler", {"permanent_live": False}),
            "pump": "pump",
        },
        conductors=[
            ("spur.L", "programmer.L", "BN"),
            ("spur.N", "programmer.N", "BU"),
            ("programmer.on-2", "room.common", "BK"),
            ("room.call", "boiler.call", "BK"),
            ("programmer.on-1", "tank.call", "GY"),
            ("tank.common", "boiler.call", "BN"),
            ("tank.satisfied", "valve.motor", "OG"),
            ("valve.N", "spur.N", "BU"),
            ("boiler.N", "spur.N", "BU"),
            ("pump.L", "boiler.call", "BN"),
            ("pump.N", "spur.N", "BU"),
        ],
        zones={
            "hot-water": {
                "serves": "hot water",
                "channel": "programmer.1",
                "thermostat": "tank",
                "valve": "valve",
            },
            "heating": {
                "serves": "heating",
                "channel": "programmer.2",
                "thermostat": "room",
                "valve": "valve",
            },
        },
    )


@pytest.mark.parametrize(
    ("heat", "water", "driven", "stands", "boiler"),
    [
        (False, False, False, B, False),
        (False, True, False, B, True),
        (True, True, False, B, True),
        (True, False, True, A, True),
    ],
)
def test_diverter_table(heat: bool, water: bool, driven: bool, stands: str, boiler: bool) -> None:
    """Heating call, cylinder calling with its time on: motor, position, boiler (common practice, no source)."""
    on = {"programmer.channel-1"}
    on |= {"programmer.channel-2", "room.calling"} if heat else set()
    on |= {"tank.calling"} if water else set()
    solution = solve(diverter())
    assert solution.memories == ()
    assert solution.hunting == 0
    answer, number = solution.settled, solution.space.state(on)
    assert bool(answer.fed["valve.motor"] >> number & 1) is driven
    assert position(answer, number) == stands
    assert bool(answer.on["boiler.firing"] >> number & 1) is boiler


def test_diverter_with_the_cylinder_cold_and_its_time_off() -> None:
    """Fed this way, heating heats the cold cylinder and not the rooms; it depends on the feed (worked out)."""
    solution = solve(diverter())
    number = solution.space.state({"programmer.channel-2", "room.calling", "tank.calling"})
    answer = solution.settled
    assert bool(answer.on["boiler.firing"] >> number & 1)
    assert position(answer, number) == B
    assert is_live(answer, number, "programmer.on-1")
