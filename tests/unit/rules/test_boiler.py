"""By which way a boiler is called that no zone calls, and when it calls itself: on small circuits, by hand."""

from dataclasses import replace

from generator.catalogue.logic import All, Fed, Is
from tests.circuits import Kinds, Wire, house
from tests.unit.rules.looking import seen, subjects

ALONE, ITSELF = "boiler-on-without-call", "boiler-holds-itself-on"
DEVICES: Kinds = {
    "spur": "fused-spur",
    "clock": ("programmer", {"channels": 3}),
    "first-stat": "room-thermostat",
    "second-stat": "room-thermostat",
    "third-stat": "room-thermostat",
    "boiler": "boiler",
}
SUPPLY: tuple[Wire, ...] = (
    ("spur.L", "boiler.L", "BN", "boiler"),
    ("spur.N", "boiler.N", "BU", "boiler"),
    ("spur.L", "clock.L", "BN", "clock"),
    ("spur.N", "clock.N", "BU", "clock"),
)
BY_CHANNEL = {"flat": {"serves": "heating", "channel": "clock.1"}}
BY_STAT = {"flat": {"serves": "heating", "thermostat": "first-stat"}}


def test_the_way_is_that_of_a_state_without_a_call() -> None:
    """With its channel alone on the flat calls; nobody calls with the third channel on and a thermostat behind it."""
    circuit = house(
        devices=DEVICES,
        conductors=[
            *SUPPLY,
            ("clock.on-1", "boiler.call", "BK"),
            ("clock.on-3", "second-stat.common", "GY"),
            ("second-stat.call", "boiler.call", "BN"),
        ],
        zones=BY_CHANNEL,
    )
    (only,) = seen(ALONE, circuit)
    assert only.message.endswith(
        "by `spur.L` > `clock.L` > `clock.on-3` > `second-stat.common` > `second-stat.call` > `boiler.call`"
    )
    assert only.example.startswith(
        "with only channel 3 of the clock on and the second stat calling for heat: "
    )


def test_the_way_to_the_one_of_two_inputs_that_is_called() -> None:
    """The heating input is called by the zone alone, that for hot water at all times."""
    circuit = house(
        devices={**DEVICES, "boiler": ("boiler", {"hot_water_demand": "switched live"})},
        conductors=[
            *SUPPLY,
            ("clock.on-1", "boiler.call", "BK"),
            ("clock.L", "boiler.hot-water-call", "BN2"),
        ],
        zones=BY_CHANNEL,
    )
    (only,) = seen(ALONE, circuit)
    assert only.message.endswith("by `spur.L` > `clock.L` > `boiler.hot-water-call`")
    assert only.path == circuit.conductors[-1].path


def test_the_way_over_volt_free_contacts() -> None:
    """Its thermostat is the flat's call; two others in series beside it are not."""
    circuit = house(
        devices={**DEVICES, "boiler": ("boiler", {"demand": "volt-free"})},
        conductors=[
            *SUPPLY,
            ("boiler.call-a", "first-stat.common", "BK"),
            ("boiler.call-b", "first-stat.call", "WH"),
            ("boiler.call-a", "second-stat.common", "BK1"),
            ("second-stat.call", "third-stat.common", "BK"),
            ("third-stat.call", "boiler.call-b", "BK"),
        ],
        zones=BY_STAT,
    )
    (only,) = seen(ALONE, circuit)
    assert only.message.endswith(
        "by `boiler.call-a` > `second-stat.common` > `second-stat.call` > `third-stat.common` > `third-stat.call` > "
        "`boiler.call-b`"
    )


def test_of_two_boilers_the_one_that_is_on_is_told() -> None:
    circuit = house(
        devices={**DEVICES, "second-boiler": "boiler"},
        conductors=[
            *SUPPLY,
            ("clock.on-1", "boiler.call", "BK"),
            ("spur.L", "second-boiler.L", "BN2", "second"),
            ("spur.N", "second-boiler.N", "BU2", "second"),
            ("clock.on-3", "second-boiler.call", "GY"),
        ],
        zones=BY_CHANNEL,
    )
    assert subjects(ALONE, circuit) == ["second-boiler"]


def test_an_output_that_is_live_during_overrun_alone() -> None:
    """Joined to its own call it fires the boiler as long as the overrun lasts, and at no other time."""
    circuit = house(
        devices={**DEVICES, "boiler": ("boiler", {"overrun": True, "pump_output": True})},
        conductors=[*SUPPLY, ("boiler.pump", "boiler.call", "BK"), ("clock.on-1", "boiler.call", "GY")],
        zones=BY_CHANNEL,
    )
    only_then = All((Is("boiler.overrun"), Fed("boiler.electronics")))
    circuit = replace(
        circuit,
        driven=tuple(
            replace(each, when=only_then) if each.name == "boiler.pump-held" else each
            for each in circuit.driven
        ),
    )
    (only,) = seen(ITSELF, circuit)
    assert only.message == (
        "the boiler calls itself through its own output once it has been called: `spur.L` > `boiler.L` > `boiler.pump` > "
        "`boiler.call`"
    )
    assert subjects(ALONE, circuit) == []


def test_the_output_of_another_boiler_is_not_its_own() -> None:
    """The second is called by the first one's output, as in a cascade; it does not hold itself."""
    circuit = house(
        devices={**DEVICES, "boiler": ("boiler", {"pump_output": True}), "second-boiler": "boiler"},
        conductors=[
            *SUPPLY,
            ("clock.on-3", "boiler.call", "BK"),
            ("boiler.pump", "second-boiler.call", "BK"),
            ("spur.L", "second-boiler.L", "BN2", "second"),
            ("spur.N", "second-boiler.N", "BU2", "second"),
        ],
        zones=BY_CHANNEL,
    )
    assert subjects(ITSELF, circuit) == []
    assert subjects(ALONE, circuit) == ["boiler", "second-boiler"]


def test_a_boiler_that_is_called_over_a_bus_is_told_at_the_device() -> None:
    """No terminal of its own is where the call arrives."""
    circuit = house(
        devices={
            **DEVICES,
            "boiler": ("boiler", {"demand": "bus"}),
            "unit": "bus-thermostat",
        },
        conductors=[*SUPPLY, ("boiler.bus-a", "unit.bus-a", "BK"), ("boiler.bus-b", "unit.bus-b", "WH")],
        zones=BY_STAT,
    )
    (only,) = seen(ALONE, circuit)
    assert only.message == "the boiler is called though no zone calls"
    assert only.path == circuit.device("boiler").path
    assert only.key
