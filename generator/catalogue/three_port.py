"""Three-port motorised valves: the mid-position valve, built from its mechanism, and the diverter valve.

Knows the parts of these kinds only. No table of positions is written here: positions follow from the two
switches, the diode and the motor.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Back, Expr, Fed, Is, Live, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    DeviceParts,
    Diode,
    Driven,
    Fact,
    Role,
    Terminal,
)
from generator.catalogue.valve_parts import (
    EARTH,
    NEUTRAL,
    Lever,
    lamp_load,
    lever_control,
    lever_input,
    lever_makes,
    lever_opens,
    motor_load,
)

BOTH_PORTS = "opens both ports half-way, so the cylinder is heated too"


class ThreePortSettings(Settings):
    """What is recorded of any three-port valve."""

    size_mm: Annotated[Literal[22, 28] | None, Field(description="Pipe size in millimetre.")] = None
    cylinder_port: Annotated[
        Literal["A", "B", "not seen"],
        Field(
            description="Letter cast at the port to the cylinder. Both are found: what counts is that the valve "
            "rests open to the cylinder."
        ),
    ] = "not seen"
    motor_w: Annotated[float, Field(gt=0, le=50, description="Motor power in watt while driven.")] = 6.0
    power_factor: Annotated[float, Field(gt=0, le=1, description="Power factor of the motor.")] = 0.8
    switch_a: Annotated[float | None, Field(gt=0, le=20, description="Rating of its switches in ampere.")] = (
        3.0
    )
    spring_s: Annotated[
        float, Field(gt=0, le=600, description="Seconds for the spring to bring it all the way back.")
    ] = 8.0


class MidPositionSettings(ThreePortSettings):
    """What is recorded of a three-port mid-position valve."""

    lever: Annotated[
        Lever,
        Field(
            description="Whether the manual lever, latched half-way, also moves the first switch as the motor does. "
            "`unknown` unless somebody tried it; `none` for a valve without a lever."
        ),
    ] = "unknown"
    lamp: Annotated[
        Literal["none", "motor", "switch"],
        Field(description="Indicator lamp: lit with the motor, or lit from `out` to neutral."),
    ] = "none"
    hold_ohm: Annotated[
        float,
        Field(
            gt=0,
            le=100_000,
            description="Resistance in series with the diode that holds the motor, in ohm. The standing value is from "
            "memory; readings at mid position depend on it, positions do not.",
        ),
    ] = 1000.0
    middle_s: Annotated[float, Field(gt=0, le=600, description="Seconds from rest to the middle.")] = 9.0
    on_s: Annotated[float, Field(gt=0, le=600, description="Seconds from the middle to heating only.")] = 9.0


def half_wave() -> Expr:
    """The motor has the half-wave that the diode lets through, and nothing else: it holds still where it is.

    The diode joins white and grey before the second switch operates; the motor hangs on white before the first
    switch operates, on grey after. So it has the half-wave of the other of the two, to neutral.
    """

    def held(own: str, other: str) -> Expr:
        fed = Any((All((Live(other), Back("N"))), All((Back(other), Live("N")))))
        return All((fed, Not(Live(own)), Not(Back(own))))

    before = All((Not(Is("past-1")), held("heat", "water-off")))
    after = All((Is("past-1"), held("water-off", "heat")))
    return All((Not(Is("past-2")), Any((before, after))))


def _mid_position(settings: MidPositionSettings) -> DeviceParts:
    first, second, driven = Is("past-1"), Is("past-2"), Fed("motor")
    lever = settings.lever
    switch_a = settings.switch_a
    return DeviceParts(
        terminals=(
            Terminal(name="heat", words="heating call", role=Role.SWITCHED_LINE, usual_core="WH"),
            Terminal(name="water-off", words="hot water off", role=Role.SWITCHED_LINE, usual_core="GY"),
            Terminal(name="out", words="to boiler and pump", role=Role.OUTPUT, usual_core="OG"),
            NEUTRAL,
            EARTH,
        ),
        inner=("motor-line",),
        inputs=lever_input(lever),
        contacts=(
            Contact(
                name="switch-1-rest",
                words="first switch",
                a="heat",
                b="motor-line",
                when=Not(first),
                rated_a=switch_a,
            ),
            Contact(
                name="switch-1-over",
                words="first switch",
                a="water-off",
                b="motor-line",
                when=first,
                rated_a=switch_a,
            ),
            Contact(
                name="switch-2-over", words="second switch", a="heat", b="out", when=second, rated_a=switch_a
            ),
        ),
        diodes=(
            Diode(
                name="hold",
                words="holding diode and resistor",
                anode="heat",
                cathode="water-off",
                ohm=settings.hold_ohm,
                when=Not(second),
            ),
        ),
        loads=(
            motor_load("motor-line", settings.motor_w, settings.power_factor),
            *lamp_load(settings.lamp, {"motor": "motor-line", "switch": "out"}),
        ),
        driven=(
            Driven(
                name="past-1",
                words="first switch",
                on_words="operated",
                off_words="at rest",
                # With full drive it advances, with the half-wave it holds, and coming back it passes switch 2 first.
                when=Any((driven, All((first, Any((second, half_wave())))), *lever_makes(lever))),
                on_s=settings.middle_s,
                off_s=settings.spring_s / 2,
            ),
            Driven(
                name="past-2",
                words="second switch",
                on_words="operated",
                off_words="at rest",
                when=All((driven, first)),
                on_s=settings.on_s,
                off_s=settings.spring_s / 2,
            ),
            *_ports(Any((first, *lever_opens(lever))), Not(second)),
        ),
        controls=lever_control(lever, BOTH_PORTS),
        facts=(*_shared_facts(settings), *_mid_facts(settings)),
        protection=1,
    )


def _ports(heating: Expr, water: Expr) -> tuple[Driven, Driven]:
    """The two ports as parts that rules and pages go by."""

    def port(name: str, words: str, when: Expr) -> Driven:
        return Driven(name=name, words=words, on_words="open", off_words="shut", when=when)

    return (
        port("open-heating", "way to heating", heating),
        port("open-water", "way to hot water", water),
    )


def _shared_facts(settings: ThreePortSettings) -> tuple[Fact, ...]:
    return (
        Fact(words="motor", value=f"{settings.motor_w:g} W while driven or held", source=COMMON_PRACTICE),
        Fact(words="power factor of the motor", value=f"{settings.power_factor:g}", source=FROM_MEMORY),
        Fact(words="time for the spring", value=f"about {settings.spring_s:g} s", source=FROM_MEMORY),
        Fact(words="rating of its switches", value=f"{settings.switch_a or 0:g} A", source=FROM_MEMORY),
        Fact(words="without power", value="the spring opens it to the cylinder", source=COMMON_PRACTICE),
        Fact(
            words="letters of the ports",
            value="published texts give A and B both ways round: go by what it does at rest, not by the letter",
            source=COMMON_PRACTICE,
        ),
        Fact(words="lever", value=BOTH_PORTS, source=FROM_MEMORY),
        Fact(
            words="unvented cylinder",
            value="rests open to the cylinder, so a valve that shuts without supply must stand in series",
            source="Approved Document G, 3.31",
        ),
    )


def _mid_facts(settings: MidPositionSettings) -> tuple[Fact, ...]:
    return (
        Fact(
            words="grey alone",
            value="published tables say that it holds its last position; by the mechanism that is so from hot water only "
            "and from heating only, and from the middle it winds on to heating only",
            source=COMMON_PRACTICE,
        ),
        Fact(
            words="grey alone while it is still on its way from rest",
            value="stops part-open before the first switch: a third result, not solved",
            source="worked out from the mechanism",
        ),
        Fact(
            words="after heating alone",
            value="the motor stays powered and warm with nothing calling: no fault",
            source=COMMON_PRACTICE,
        ),
        Fact(
            words="holding resistor",
            value=f"{settings.hold_ohm:g} ohm in series with the diode",
            source=FROM_MEMORY,
        ),
        Fact(
            words="second resistor",
            value="about 270 kohm, so that the motor's magnetism does not keep the spring from winning; moves nothing "
            "and is not solved",
            source=COMMON_PRACTICE,
        ),
        Fact(words="time to the middle", value=f"about {settings.middle_s:g} s", source=FROM_MEMORY),
        Fact(words="time from there to heating", value=f"about {settings.on_s:g} s", source=FROM_MEMORY),
    )


class DiverterSettings(ThreePortSettings):
    """What is recorded of a three-port diverter valve."""

    lever: Annotated[
        Lever,
        Field(
            description="Whether the manual lever, latched half-way, also makes the end switch. `unknown` unless "
            "somebody tried it; `none` for a valve without a lever."
        ),
    ] = "unknown"
    end_switch: Annotated[
        bool, Field(description="True for an end switch between grey and orange, made at heating.")
    ] = False
    lamp: Annotated[
        Literal["none", "motor", "switch"],
        Field(description="Indicator lamp: lit with the motor, or lit from `switch-b` to neutral."),
    ] = "none"
    travel_s: Annotated[
        float, Field(gt=0, le=600, description="Seconds from hot water to heating, driven by the motor.")
    ] = 15.0


def _diverter(settings: DiverterSettings) -> DeviceParts:
    moved = Is("moved")
    lever = settings.lever
    terminals = [
        Terminal(name="motor", words="motor", role=Role.SWITCHED_LINE, usual_core="BN"),
        NEUTRAL,
        EARTH,
    ]
    contacts = []
    driven = [
        Driven(
            name="moved",
            words="valve",
            on_words="at heating",
            off_words="at hot water",
            when=Fed("motor"),
            on_s=settings.travel_s,
            off_s=settings.spring_s,
        ),
        *_ports(Any((moved, *lever_opens(lever))), Not(moved)),
    ]
    points = {"motor": "motor"}
    if settings.end_switch:
        points["switch"] = "switch-b"
        terminals += [
            Terminal(name="switch-a", words="end switch", role=Role.CONTACT, usual_core="GY"),
            Terminal(name="switch-b", words="end switch", role=Role.CONTACT, usual_core="OG"),
        ]
        contacts.append(
            Contact(
                name="end-switch",
                words="end switch",
                a="switch-a",
                b="switch-b",
                when=Is("end-switch"),
                rated_a=settings.switch_a,
            )
        )
        driven.append(
            Driven(
                name="end-switch",
                words="end switch",
                on_words="made",
                off_words="broken",
                when=Any((moved, *lever_makes(lever))),
                off_s=0.5,
            )
        )
    return DeviceParts(
        terminals=tuple(terminals),
        inputs=lever_input(lever),
        contacts=tuple(contacts),
        loads=(
            motor_load("motor", settings.motor_w, settings.power_factor),
            *lamp_load(settings.lamp, points),
        ),
        driven=tuple(driven),
        controls=lever_control(lever, BOTH_PORTS),
        facts=(
            *_shared_facts(settings),
            Fact(words="time to heating", value=f"about {settings.travel_s:g} s", source=FROM_MEMORY),
            Fact(
                words="priority",
                value="usually hot water: the motor is fed through the satisfied contact of the cylinder thermostat",
                source=COMMON_PRACTICE,
            ),
        ),
        protection=1,
    )


MID_POSITION_VALVE = Kind(
    name="three-port-mid-position-valve",
    words="three-port mid-position valve",
    duty=Duty.VALVE,
    about="A spring-return valve with one inlet and two outlets: it rests open to the cylinder, stands half-way for both, "
    "and is driven on to heating only. White asks for heating, grey says that hot water is off, orange calls the "
    "boiler once it stands at heating. What it does may depend on what it did before.",
    settings=MidPositionSettings,
    parts=_mid_position,
    example={"lever": "does not make", "lamp": "motor"},
)

DIVERTER_VALVE = Kind(
    name="three-port-diverter-valve",
    words="three-port diverter valve",
    duty=Duty.VALVE,
    about="A spring-return valve with one inlet and two outlets, of which one is open at a time: it rests open to the "
    "cylinder and the motor drives it to heating.",
    settings=DiverterSettings,
    parts=_diverter,
    example={"lever": "does not make", "end_switch": True, "lamp": "switch"},
)
