"""What pages say first of devices that are out of the ordinary, and the states they add."""

from generator.views.shown_states import shown_states
from generator.views.unusual_devices import unusual_calls, unusual_heat
from tests.circuits import house


def test_heat_that_no_control_stops_comes_with_a_warning() -> None:
    circuit = house(devices={"stove": "solid-fuel-stove"})
    ((key, words),) = unusual_heat(circuit)
    assert key == "heat-without-control"
    assert words.startswith("The stove makes heat that no control stops.")


def test_supplies_of_two_phases() -> None:
    circuit = house(
        devices={"spur": "fused-spur", "circuit": ("own-circuit", {"breaker_a": 32, "phase": 2})},
    )
    ((key, words),) = unusual_heat(circuit)
    assert key == "several-phases"
    assert "400 V" in words


def test_calls_out_of_the_ordinary() -> None:
    circuit = house(
        devices={
            "boiler": ("boiler", {"demand": "volt-free"}),
            "pump": ("heat-pump", {"demand": "switched live"}),
            "loft": "frost-thermostat",
            "roof": "solar-station",
            "programmer": ("programmer", {"channels": 2, "hot_water_with_heating": True}),
        },
        zones={"hot-water": {"serves": "hot water", "channel": "programmer.1"}},
    )
    told = dict(unusual_calls(circuit))
    assert list(told) == ["extra-low-voltage", "frost-thermostat", "solar", "channels-linked"]
    assert told["extra-low-voltage"] == (
        "The boiler is called by a volt-free contact: `call-a` and `call-b` must never see mains."
    )


def test_a_frost_call_is_a_state_of_its_own() -> None:
    circuit = house(devices={"loft": "frost-thermostat", "pipe": "pipe-thermostat"})
    states = [state for state in shown_states(circuit) if state.id.startswith("design-")]
    assert [(state.on, state.words) for state in states] == [
        (("loft.calling",), "only the loft is calling for frost protection")
    ]
