"""Rules of the building regulations on whole dwellings.

Knows these rules only. They are England's; other nations' documents are like them but not the same.
"""

from collections.abc import Iterator
from datetime import date

from generator.catalogue.kind import Duty
from generator.findings.finding import Severity
from generator.rules.behaviour import opened, setting, ways_of
from generator.rules.example_house import HOUSE, OVERRUN_INSIDE, change
from generator.rules.rule import Family, Rule, Seen, Subject
from generator.rules.words import the_device

LARGE_M2 = 150
"""Approved Document L, volume 1 (2021), 5.14: this area or more."""
_DWELLING = ("property", "dwelling")
MEASURES_FROM = date(2018, 4, 6)
"""From this day a combination boiler put into an existing dwelling in England needs one measure more."""


def _in_england(subject: Subject) -> bool:
    return subject.record.property.nation == "england"


def _heating_circuits(subject: Subject) -> int:
    """How many heating circuits the controls can work one without another, in the solved states."""
    circuit = subject.circuit
    coils = {item.opens for item in circuit.water.circuits if item.feeds == "cylinder coil"}
    coils |= {zone.opens for zone in circuit.zones if zone.serves == "hot water"}
    ways = [opens for valve in circuit.with_duty(Duty.VALVE) for opens in ways_of(valve)]
    ways += [zone.opens for zone in circuit.zones]
    vectors = {
        vector
        for opens in dict.fromkeys(ways)
        if opens not in coils and (vector := opened(subject.solution.settled, opens))
    }
    return len(vectors)


def _one_circuit(subject: Subject) -> Iterator[Seen]:
    dwelling = subject.record.property.dwelling
    if not _in_england(subject) or dwelling.status != "new" or dwelling.floor_area_m2 < LARGE_M2:
        return
    count = _heating_circuits(subject)
    if count < 2:
        yield Seen(
            path=(*_DWELLING, "floor_area_m2"),
            message=f"a new dwelling of {dwelling.floor_area_m2:g} m2 has {count or 'no'} heating circuit with controls of "
            "its own; it needs two",
        )


ONE_CIRCUIT_IN_LARGE_NEW_DWELLING = Rule(
    name="one-circuit-in-large-new-dwelling",
    family=Family.DWELLINGS,
    severity=Severity.WARNING,
    summary="A large new dwelling has one heating circuit",
    why="All of a large house is heated whenever any of it is.",
    fix="Divide the heating into two circuits, each with its own thermostat, times and valve.",
    source="Approved Document L, volume 1 (2021), 5.14",
    limits="England, new dwellings of 150 m2 or more. Circuits count when their valves, or pumps of their own, differ in some state.",
    right=HOUSE,
    wrong=change(HOUSE, ("floor_area_m2: 82 }", "floor_area_m2: 150, status: new }")),
    look=_one_circuit,
)


def _beside(subject: Subject) -> Iterator[Seen]:
    for device in subject.circuit.with_duty(Duty.ROOM_THERMOSTAT):
        if setting(device, "own_radiator_valve") is True:
            where = f" in the {device.place}" if device.place else ""
            yield Seen(
                path=(*device.path, "settings", "own_radiator_valve"),
                subject=device.name,
                message=f"a radiator beside {the_device(device)}{where} has a thermostatic valve",
            )


RADIATOR_VALVE_BESIDE_THERMOSTAT = Rule(
    name="radiator-valve-beside-thermostat",
    family=Family.DWELLINGS,
    severity=Severity.WARNING,
    summary="A radiator valve works against the room thermostat",
    why="The radiator valve shuts first: the thermostat never sees its temperature, calls for ever and the rest of the "
    "house overheats.",
    fix="Take the thermostatic head off that radiator, or leave it fully open for good.",
    source="Approved Document L, volume 1 (2021), 5.20 to 5.22",
    limits="Only where the record says which radiators have thermostatic valves.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        (
            "{ kind: room-thermostat, place: hall }",
            "{ kind: room-thermostat, place: hall, settings: { own_radiator_valve: true } }",
        ),
    ),
    look=_beside,
)


def _no_room_control(subject: Subject) -> Iterator[Seen]:
    if not _in_england(subject) or subject.record.property.dwelling.status != "new":
        return
    for name, circuit in subject.record.water.circuits.items():
        if circuit.feeds == "radiators" and circuit.radiator_valves is False:
            yield Seen(
                path=("water", "circuits", name, "radiator_valves"),
                subject=name,
                message=f"the radiators of circuit `{name}` have no thermostatic valves, in a new dwelling",
            )


NEW_DWELLING_WITHOUT_ROOM_CONTROL = Rule(
    name="new-dwelling-without-room-control",
    family=Family.DWELLINGS,
    severity=Severity.WARNING,
    summary="Rooms of a new dwelling cannot be controlled one by one",
    why="Rooms that nobody uses are heated like the others.",
    fix="Fit thermostatic valves to the radiators, save in the room of the room thermostat.",
    source="Approved Document L, volume 1 (2021), 5.20 to 5.22",
    limits="England, new dwellings, where the record says there are none. A single-storey open plan with a living area "
    "over 70 % of the floor may have one zone; the record does not tell.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("floor_area_m2: 82 }", "floor_area_m2: 82, status: new }"),
        ("feeds: radiators }", "feeds: radiators, radiator_valves: false }"),
    ),
    look=_no_room_control,
)


def _no_measure(subject: Subject) -> Iterator[Seen]:
    about = subject.record.property
    if not _in_england(subject) or about.fuel != "gas" or about.dwelling.status != "existing":
        return
    for boiler in subject.circuit.with_duty(Duty.BOILER):
        fitted = subject.record.devices[boiler.name].fitted
        if fitted is None or fitted < MEASURES_FROM or setting(boiler, "combination_measure") != "none":
            continue
        if setting(boiler, "combination") is True:
            yield Seen(
                path=(*boiler.path, "settings", "combination_measure"),
                subject=boiler.name,
                message=f"{the_device(boiler)}, a combination boiler fitted on {fitted}, has none of the four measures "
                "that go with one",
            )


COMBINATION = change(
    OVERRUN_INSIDE,
    (
        "boiler: { kind: boiler, settings: { overrun: true, pump_inside: true } }",
        (
            "boiler: { kind: boiler, fitted: 2024-05-13, settings: { overrun: true, pump_inside: true, combination: true, "
            "combination_measure: load compensation } }"
        ),
    ),
)

COMBINATION_BOILER_WITHOUT_MEASURE = Rule(
    name="combination-boiler-without-measure",
    family=Family.DWELLINGS,
    severity=Severity.WARNING,
    summary="A combination boiler has none of the measures that go with it",
    why="The house burns more gas than it need: nothing lowers the water's temperature when little heat is wanted.",
    fix="Fit flue-gas heat recovery, weather or load compensation, or a smart thermostat with automation and optimisation; "
    "or record what is there.",
    source="Approved Document L, volume 1 (2021), 6.2",
    limits="England, gas, existing dwellings, boilers fitted on or after 6 April 2018, where the record says that there is none.",
    right=COMBINATION,
    wrong=change(COMBINATION, ("combination_measure: load compensation", "combination_measure: none")),
    look=_no_measure,
)

DWELLINGS: tuple[Rule, ...] = (
    ONE_CIRCUIT_IN_LARGE_NEW_DWELLING,
    RADIATOR_VALVE_BESIDE_THERMOSTAT,
    NEW_DWELLING_WITHOUT_ROOM_CONTROL,
    COMBINATION_BOILER_WITHOUT_MEASURE,
)
