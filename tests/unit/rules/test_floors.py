"""Floors written the short way: loops in order and not, and which pumps are of blending sets. By hand."""

from generator.rules.calls_loops import FLOOR, blending_pumps
from generator.rules.example_house import change
from tests.circuits import house
from tests.unit.rules.looking import found


def test_a_loop_in_order_does_not_hide_the_next() -> None:
    """Of the kitchen's three loops the second opens with the first, the third with nothing."""
    record = change(FLOOR, ("loops: 2", "loops: 3"))
    assert found("loop-unlike-its-zone", record) == []
    wrong = change(
        record,
        (
            "      D: # controller",
            "      F: # earths\n        - { to: kitchen-actuator-3.L, core: BN }\n      D: # controller",
        ),
    )
    assert [each.subject for each in found("loop-unlike-its-zone", wrong)] == ["kitchen-actuator-3"]


def test_which_pumps_are_of_blending_sets() -> None:
    """Not a boiler's own pump, one without a limit thermostat, one of a single circuit or a source, nor a solar controller's."""
    circuit = house(
        devices={
            "boiler": ("boiler", {"pump_inside": True}),
            "pump": "pump",
            "set": "blending-set",
            "loop-set": "blending-set",
            "solar": "solar-station",
            "valve": "two-port-valve",
        },
        water={
            "circuits": {
                "floor": {"valve": "valve", "feeds": "underfloor", "blending": True},
                "loop": {"pump": "loop-set", "feeds": "underfloor"},
                "sun": {"source": "sun", "feeds": "cylinder coil"},
            },
            "sources": {"sun": {"of": "solar", "device": "solar"}},
        },
    )
    assert [load.name.split(".", 1)[0] for load in blending_pumps(circuit)] == ["set"]


def test_the_pump_of_a_floor_without_a_conductor_is_told_at_the_device() -> None:
    record = (
        FLOOR.partition("\nwiring:\n")[0] + "\nwiring:\n  removed:\n    - { cable: blending-set, core: BN }\n"
    )
    (only,) = found("blending-pump-unlike-the-floor", record)
    assert only.message == (
        "the blending set does not run while a floor that it serves is open and the boiler fires"
    )
