"""Rules on stored hot water: its thermostat, its temperature and its times.

Knows these rules only. A fault here scalds, or breeds Legionella.
"""

from collections.abc import Iterator

from generator.catalogue.kind import Duty
from generator.catalogue.parts import InputKind
from generator.circuit.model import PlacedDevice, WaterCircuit
from generator.findings.finding import Severity
from generator.record.places import Path
from generator.rules.behaviour import any_firing, can_open, opened, setting, ways_of
from generator.rules.crossed import crossed_ways
from generator.rules.example_house import HOUSE, change, moved
from generator.rules.rule import COMMON_PRACTICE, Family, Rule, Seen, Subject
from generator.rules.states_in_words import states_in_words
from generator.rules.valve_mechanism import open_without_supply
from generator.rules.words import device_of, the_device, the_zone
from generator.states.answer import Answer

LOWEST_C = 60
HIGHEST_C = 65


def _coil_circuits(subject: Subject) -> tuple[WaterCircuit, ...]:
    """The circuits of a cylinder coil that the boiler heats; one of another source of heat is not meant."""
    circuits = subject.circuit.water.circuits
    return tuple(item for item in circuits if item.feeds == "cylinder coil" and not item.source)


def coil_ways(subject: Subject) -> tuple[str, ...]:
    """The parts that let boiler water into a cylinder coil, by the water side or by a zone's intent."""
    ways = [circuit.opens for circuit in _coil_circuits(subject)]
    ways += [zone.opens for zone in subject.circuit.zones if zone.serves == "hot water"]
    return tuple(opens for opens in dict.fromkeys(ways) if can_open(subject, opens))


def coil_paths(subject: Subject) -> tuple[tuple[str, ...], ...]:
    """Each way of boiler water to a cylinder: the parts that must all let it through; empty for an open way.

    A valve that a hot water zone names and no circuit has stands in series with the valves of the circuits: so a
    two-port valve before or after a three-port one is recorded.
    """
    circuits = _coil_circuits(subject)
    wanted = [zone.opens for zone in subject.circuit.zones if zone.serves == "hot water"]
    zones = [opens for opens in dict.fromkeys(wanted) if can_open(subject, opens)]
    own = [(circuit.opens,) if can_open(subject, circuit.opens) else () for circuit in circuits]
    besides = tuple(opens for opens in zones if (opens,) not in own)
    if not circuits:
        return tuple((opens,) for opens in zones)
    return tuple((*ways, *besides) if ways else () for ways in own)


def _open_coil(subject: Subject) -> bool:
    """Whether a coil is always open to the boiler: its circuit has no valve and no pump of its own."""
    return any(not circuit.opens for circuit in _coil_circuits(subject))


def heating_water(subject: Subject, answer: Answer) -> int:
    """The states in which boiler heat can reach a cylinder."""
    vector = 0
    for ways in coil_paths(subject):
        through = answer.at
        for opens in ways:
            through &= opened(answer, opens)
        vector |= through
    return vector & any_firing(subject, answer)


def _coil_place(subject: Subject) -> tuple[Path, str, str]:
    """Where findings on the boiler's hot water stand: the zone, else the circuit; and its words. One of them there is."""
    for zone in subject.circuit.zones:
        if zone.serves == "hot water":
            return zone.path, zone.name, the_zone(zone)
    circuit = _coil_circuits(subject)[0]
    return circuit.path, circuit.name, "the cylinder"


def has_coil(subject: Subject) -> bool:
    """Whether the record says by which way boiler water gets to a cylinder."""
    return bool(coil_ways(subject)) or _open_coil(subject)


def _without_thermostat(subject: Subject) -> Iterator[Seen]:
    if not has_coil(subject):
        return
    space, answer = subject.solution.space, subject.solution.settled
    heating = heating_water(subject, answer)
    if not heating or crossed_ways(subject) & set(coil_ways(subject)):
        return
    thermostats = [
        item.name
        for device in subject.circuit.with_duty(Duty.CYLINDER_THERMOSTAT)
        for item in device.parts.inputs
        if item.kind is InputKind.THERMOSTAT
    ]
    if any(space.turned(heating, name) != heating for name in thermostats if name in space.inputs):
        return
    path, name, words = _coil_place(subject)
    what = "no thermostat on the cylinder stops it" if thermostats else "the cylinder has no thermostat"
    yield Seen(
        path=path,
        key=True,
        subject=name,
        message=f"the boiler heats {words} and {what}",
        holds=states_in_words(heating, space, subject.circuit).text,
    )


STORED_WATER_WITHOUT_THERMOSTAT = Rule(
    name="stored-water-without-thermostat",
    family=Family.HOT_WATER,
    severity=Severity.ERROR,
    summary="Stored hot water has no thermostat",
    why="The water gets as hot as the boiler makes it. It scalds: at 60 C a full burn takes about five seconds, and the "
    "boiler may give 80 C.",
    fix="Fit a cylinder thermostat that acts on the cylinder's valve and on the boiler; or wire in the one that is there.",
    source="Approved Document L, volume 1 (2021), 5.16 and 5.26",
    limits="Water heated by the boiler. What an immersion heater does has its own thermostat.",
    right=HOUSE,
    wrong=change(
        HOUSE,
        ("        - { to: water-thermostat.call, core: BK }\n", ""),
        ("        - { to: water-thermostat.common, core: BN }\n", ""),
        ("  water-thermostat: { kind: cylinder-thermostat }\n", ""),
        ("  water-thermostat: { cores: [BK, BN], size_mm2: 0.75, length_m: 3 }\n", ""),
        ("      B: # hot water calls\n", ""),
        ("channel: programmer.1, thermostat: water-thermostat,", "channel: programmer.1,"),
    ),
    look=_without_thermostat,
)


def _set_c(device: PlacedDevice) -> float | None:
    value = setting(device, "set_c")
    return float(value) if isinstance(value, int | float) else None


def _stores_heating_water(subject: Subject) -> bool:
    """Whether every cylinder on record is a thermal store: the tap water is heated on its way through, and not stored."""
    cylinders = subject.circuit.with_duty(Duty.CYLINDER)
    return bool(cylinders) and all(setting(item, "system") == "thermal store" for item in cylinders)


def _temperature(subject: Subject, low: bool) -> Iterator[Seen]:
    pasteurised = any(setting(boiler, "pasteurises") for boiler in subject.circuit.with_duty(Duty.BOILER))
    if _stores_heating_water(subject) or (low and pasteurised):
        return
    for device in subject.circuit.with_duty(Duty.CYLINDER_THERMOSTAT):
        value = _set_c(device)
        if value is None or not (value < LOWEST_C if low else value > HIGHEST_C):
            continue
        yield Seen(
            path=(*device.path, "settings", "set_c"),
            subject=device.name,
            message=f"{the_device(device)} is set to {value:g} C; "
            + (
                f"water is stored at {LOWEST_C} C or more"
                if low
                else f"{HIGHEST_C} C is the most that is usual"
            ),
        )


STORED_WATER_TOO_COOL = Rule(
    name="stored-water-too-cool",
    family=Family.HOT_WATER,
    severity=Severity.WARNING,
    summary="Stored hot water is set below 60 C",
    why="Legionella grows from 20 C to 45 C and lives on for a time above that. A cylinder below 60 C can breed it.",
    fix="Set the thermostat to 60 C, and fit mixing valves where somebody vulnerable lives.",
    source="Health and Safety Executive, Legionnaires' disease: hot and cold water systems; HSG274 Part 2",
    limits="Keeps quiet beside a heat pump with a recorded cycle that heats the water through now and then, and on a "
    "thermal store, which holds no tap water.",
    right=HOUSE,
    wrong=change(
        HOUSE, ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, settings: { set_c: 50 } }")
    ),
    look=lambda subject: _temperature(subject, True),
)

STORED_WATER_TOO_HOT = Rule(
    name="stored-water-too-hot",
    family=Family.HOT_WATER,
    severity=Severity.WARNING,
    summary="Stored hot water is set above 65 C",
    why="The hotter the water, the quicker it scalds, the more scale it lays down and the more heat it loses.",
    fix="Set the thermostat between 60 C and 65 C.",
    source=COMMON_PRACTICE,
    limits="Goes by the setting recorded; the water itself is not measured. Keeps quiet on a thermal store, which holds no "
    "tap water and works hotter.",
    right=HOUSE,
    wrong=change(
        HOUSE, ("{ kind: cylinder-thermostat }", "{ kind: cylinder-thermostat, settings: { set_c: 75 } }")
    ),
    look=lambda subject: _temperature(subject, False),
)


def _times(subject: Subject, vectors: list[int], clocks: frozenset[str] = frozenset()) -> frozenset[str]:
    """The timer channels that any of the vectors depends on, and those of ``clocks``, inputs that keep times as well."""
    space = subject.solution.space
    timed = {item.name for item in subject.circuit.called_inputs if item.kind is InputKind.CHANNEL}
    return frozenset(
        name
        for name in space.inputs
        if name in timed | clocks and any(space.turned(vector, name) != vector for vector in vectors)
    )


def _clocks_on_the_wall(subject: Subject) -> frozenset[str]:
    """The calls of room thermostats with a clock of their own: those of zones that need no channel."""
    return frozenset(
        f"{zone.thermostat}.calling"
        for zone in subject.circuit.zones
        if zone.serves == "heating" and zone.thermostat and not zone.channel
    )


def _served(subject: Subject, answer: Answer, opens: str) -> int:
    """The states in which a way lets water through.

    Of a way that may be open with nothing calling, as those of three-port valves, the states with the boiler firing.
    """
    device = device_of(subject.circuit, opens)
    resting = len(ways_of(device)) > 1 or open_without_supply(device, opens)
    return opened(answer, opens) & (any_firing(subject, answer) if resting else answer.at)


def _not_independent(subject: Subject) -> Iterator[Seen]:
    answer = subject.solution.settled
    coils = coil_ways(subject)
    others = [
        opens
        for valve in subject.circuit.with_duty(Duty.VALVE)
        for opens in ways_of(valve)
        if opens not in coils
    ]
    water = [vector for opens in coils if (vector := _served(subject, answer, opens))]
    heating = [vector for opens in others if (vector := _served(subject, answer, opens))]
    if not water or not heating:
        return
    own = _times(subject, water)
    # A heating circuit that waits for hot water, as with a diverter valve, has times of its own besides.
    clocks = _clocks_on_the_wall(subject)
    if own and all(_times(subject, [each], clocks) != own for each in heating):
        return
    path, name, words = _coil_place(subject)
    new = subject.record.property.dwelling.status == "new"
    how = "has the times of the heating" if own else "has no times of its own"
    yield Seen(
        path=path,
        key=True,
        subject=name,
        message=f"{words} {how}",
        severity=None if new else Severity.NOTE,
    )


HOT_WATER_TIME_NOT_INDEPENDENT = Rule(
    name="hot-water-time-not-independent",
    family=Family.HOT_WATER,
    severity=Severity.WARNING,
    summary="Hot water has no times of its own",
    why="The tenant cannot have hot water in summer without the heating, or pays for a hot cylinder all day.",
    fix="Give hot water its own channel; in an existing house when the timer or the cylinder is next replaced.",
    source="Approved Document L, volume 1 (2021), 5.16 and 5.24",
    limits="A note in an existing dwelling, where one timer may stay (5.24).",
    right=HOUSE,
    wrong=change(
        moved(
            HOUSE, "- { to: room-thermostat.common, core: BN }", after="- { to: programmer.on-1, core: BK }"
        ),
        ("floor_area_m2: 82 }", "floor_area_m2: 82, status: new }"),
        ("settings: { channels: 2 }", "settings: { channels: 1 }"),
        ("      C: # heating on\n        - { to: programmer.on-2, core: GY }\n", ""),
        ("channel: programmer.2", "channel: programmer.1"),
    ),
    look=_not_independent,
)

HOT_WATER: tuple[Rule, ...] = (
    STORED_WATER_WITHOUT_THERMOSTAT,
    STORED_WATER_TOO_COOL,
    STORED_WATER_TOO_HOT,
    HOT_WATER_TIME_NOT_INDEPENDENT,
)
