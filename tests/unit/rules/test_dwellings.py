"""The building regulations on whole dwellings, England: how many circuits of heating there are, and what does not apply.

Approved Document L, volume 1 (2021), 5.14 and 5.20 to 5.22.
"""

import pytest

from generator.rules.calls_loops import FLOOR
from generator.rules.example_house import HOUSE, change, moved
from tests.short_houses import HEAD
from tests.unit.rules.looking import found

ONE, NONE = "1 heating circuit", "no heating circuit"
LARGE = ("floor_area_m2: 82 }", "floor_area_m2: 150, status: new }")


def arranged(*lines: str) -> str:
    head = change(HEAD, ("floor_area_m2: 74, year: 1911}", "floor_area_m2: 150, status: new}"))
    return head + "arrangement:\n" + "".join(f"  {line}\n" for line in lines)


def told(record: str) -> str:
    """How many circuits are told of; empty where there are enough."""
    messages = [each.message for each in found("one-circuit-in-large-new-dwelling", record)]
    return "".join(message.partition(" has ")[2].partition(" with ")[0] for message in messages)


ONE_THERMOSTAT = "zones: {down: {serves: heating}, up: {serves: heating}, hot-water: {serves: hot water}}"


@pytest.mark.parametrize(
    ("record", "circuits"),
    [
        (change(HOUSE, LARGE), ONE),
        (arranged("name: two-port", ONE_THERMOSTAT, "cylinder: vented"), ""),
        (arranged("name: header-with-zone-pumps", ONE_THERMOSTAT, "cylinder: vented"), ""),
        (arranged("name: header-with-zone-pumps", "zones: {down: {serves: heating}}"), ONE),
        (arranged("name: combination", "zones: {down: {serves: heating}, up: {serves: heating}}"), ""),
        (arranged("name: combination", "zones: {down: {serves: heating}}"), ONE),
    ],
    ids=[
        "one valve",
        "two valves",
        "two pumps",
        "one pump",
        "two valves, no cylinder",
        "one valve, no cylinder",
    ],
)
def test_circuits_with_controls_of_their_own(record: str, circuits: str) -> None:
    assert told(record) == circuits


def test_valves_that_always_open_together_are_one_circuit() -> None:
    """The floor has two actuators; only the radiators upstairs are another circuit."""
    assert told(change(FLOOR, LARGE)) == ""
    alone = change(
        FLOOR,
        LARGE,
        ("    upstairs: { serves: heating }\n", ""),
        ("name: underfloor-and-radiators", "name: underfloor"),
    )
    alone = change(alone, ("emitter: underfloor, ", ""))
    alone = alone.partition("\nwiring:\n")[0] + "\n"
    assert told(alone) == ONE


def test_the_cylinder_s_valve_is_no_circuit_of_heating() -> None:
    """Be it known by the zone of hot water alone, or by the circuit of the coil alone."""
    no_circuit = change(HOUSE, LARGE, ("    hot-water: { valve: water-valve, feeds: cylinder coil }\n", ""))
    assert told(no_circuit) == ONE
    zone = "  hot-water: { serves: hot water, channel: programmer.1, thermostat: water-thermostat, valve: water-valve }\n"
    assert told(change(HOUSE, LARGE, (zone, ""))) == ONE
    # Of a valve of which neither says so nobody knows that it is the cylinder's.
    assert told(change(no_circuit, (zone, ""))) == ""


def test_a_valve_that_never_opens_is_no_circuit() -> None:
    record = moved(
        HOUSE, "- { to: heating-valve.motor, core: BN }", after="- { to: water-valve.E, core: GNYE }"
    )
    assert told(change(record, LARGE)) == NONE


@pytest.mark.parametrize(
    ("setting", "place", "message"),
    [
        (
            "true",
            ", place: hall",
            "a radiator beside the room thermostat in the hall has a thermostatic valve",
        ),
        ("true", "", "a radiator beside the room thermostat has a thermostatic valve"),
        ("false", ", place: hall", ""),
    ],
)
def test_a_radiator_valve_beside_a_room_thermostat(setting: str, place: str, message: str) -> None:
    record = change(
        HOUSE,
        (
            "{ kind: room-thermostat, place: hall }",
            f"{{ kind: room-thermostat{place}, settings: {{ own_radiator_valve: {setting} }} }}",
        ),
    )
    assert [each.message for each in found("radiator-valve-beside-thermostat", record)] == (
        [message] if message else []
    )


@pytest.mark.parametrize(
    ("feeds", "told_of"),
    [
        ("feeds: radiators, radiator_valves: false }", ["heating"]),
        ("feeds: radiators, radiator_valves: true }", []),
        ("feeds: radiators }", []),
        ("feeds: underfloor }", []),
    ],
)
def test_radiators_without_valves_in_a_new_dwelling(feeds: str, told_of: list[str]) -> None:
    record = change(
        HOUSE, ("floor_area_m2: 82 }", "floor_area_m2: 82, status: new }"), ("feeds: radiators }", feeds)
    )
    assert [each.subject for each in found("new-dwelling-without-room-control", record)] == told_of


def test_a_circuit_in_order_does_not_hide_the_next() -> None:
    record = change(
        HOUSE,
        ("floor_area_m2: 82 }", "floor_area_m2: 82, status: new }"),
        (
            "    heating: { valve: heating-valve, feeds: radiators }\n",
            (
                "    first: { feeds: radiators, radiator_valves: true }\n"
                "    heating: { valve: heating-valve, feeds: radiators, radiator_valves: false }\n"
            ),
        ),
    )
    assert [each.subject for each in found("new-dwelling-without-room-control", record)] == ["heating"]
