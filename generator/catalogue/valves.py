"""The two-port motorised valve with its variants, and the automatic bypass: what opens and shuts water paths.

Knows the parts of these kinds only.
"""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Expr, Fed, Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    DeviceParts,
    Driven,
    Fact,
    Role,
    Terminal,
)
from generator.catalogue.valve_parts import (
    EARTH,
    NEUTRAL,
    EndSwitch,
    Lever,
    WhiteJoins,
    end_switch_contacts,
    end_switch_driven,
    end_switch_terminals,
    lamp_load,
    lever_control,
    lever_input,
    lever_makes,
    lever_opens,
    motor_load,
)


class TwoPortValveSettings(Settings):
    """What is recorded of a two-port spring-return valve."""

    size_mm: Annotated[Literal[15, 22, 28] | None, Field(description="Pipe size in millimetre.")] = None
    rests: Annotated[
        Literal["shut", "open"],
        Field(
            description="Where the spring leaves it without power. `open` for a normally open valve, which the motor "
            "shuts and which has no lever."
        ),
    ] = "shut"
    end_switch: Annotated[
        EndSwitch,
        Field(
            description="make: between `switch-a` and `switch-b`, made while open. change-over: `switch-c` (white) is "
            "joined to one of them while it is shut. none: the lead has no switch cores."
        ),
    ] = "make"
    white_joins: Annotated[
        WhiteJoins,
        Field(
            description="Of a change-over end switch: the core that white is joined to while the valve is shut. The "
            "standing value is from memory."
        ),
    ] = "orange"
    lever: Annotated[
        Lever,
        WhiteJoins,
        Field(
            description="Whether the manual lever, latched, also makes the end switch. "
            "`unknown` unless somebody tried it; `none` for a valve without a lever."
        ),
    ] = "unknown"
    arrow: Annotated[
        Literal["with the flow", "against the flow", "not seen"],
        Field(description="How the arrow on the body stands to the flow."),
    ] = "not seen"
    lamp: Annotated[
        Literal["none", "motor", "switch"],
        Field(
            description="Indicator lamp: lit with the motor, or lit from `switch-b` to neutral with the end switch made."
        ),
    ] = "none"
    motor_w: Annotated[float, Field(gt=0, le=50, description="Motor power in watt while driven.")] = 6.0
    power_factor: Annotated[float, Field(gt=0, le=1, description="Power factor of the motor.")] = 0.8
    opening_s: Annotated[
        float, Field(gt=0, le=600, description="Seconds the motor takes, from rest to fully driven.")
    ] = 12.0
    closing_s: Annotated[
        float, Field(gt=0, le=600, description="Seconds for the spring to take it back.")
    ] = 6.0
    switch_a: Annotated[float | None, Field(gt=0, le=20, description="End switch rating in ampere.")] = 3.0


def _two_port_valve(settings: TwoPortValveSettings) -> DeviceParts:
    motor = Fed("motor")
    rests_open = settings.rests == "open"
    lever: Lever = "none" if rests_open else settings.lever
    opens: Expr = Not(motor) if rests_open else Any((motor, *lever_opens(lever)))
    made: Expr = Not(motor) if rests_open else Any((motor, *lever_makes(lever)))
    to_open, to_shut = settings.opening_s, settings.closing_s
    switched = settings.end_switch != "none"
    return DeviceParts(
        terminals=(
            Terminal(name="motor", words="motor", role=Role.SWITCHED_LINE, usual_core="BN"),
            NEUTRAL,
            EARTH,
            *end_switch_terminals(settings.end_switch),
        ),
        inputs=lever_input(lever),
        contacts=end_switch_contacts(settings.end_switch, settings.switch_a, settings.white_joins),
        loads=(
            motor_load("motor", settings.motor_w, settings.power_factor),
            *lamp_load(settings.lamp, {"motor": "motor", **({"switch": "switch-b"} if switched else {})}),
        ),
        driven=(
            Driven(
                name="open",
                words="valve",
                on_words="open",
                off_words="shut",
                when=opens,
                on_s=to_shut if rests_open else to_open,
                off_s=to_open if rests_open else to_shut,
            ),
            *end_switch_driven(settings.end_switch, made, on_s=to_shut if rests_open else to_open),
        ),
        controls=lever_control(lever, "opens the valve by hand"),
        facts=tuple(_two_port_facts(settings)),
        protection=1,
    )


def _two_port_facts(settings: TwoPortValveSettings) -> Iterator[Fact]:
    rests_open = settings.rests == "open"
    held = "shut" if rests_open else "open"
    yield Fact(words="motor", value=f"{settings.motor_w:g} W while held {held}", source=COMMON_PRACTICE)
    yield Fact(words="power factor of the motor", value=f"{settings.power_factor:g}", source=FROM_MEMORY)
    driven, spring = ("to shut", "to open") if rests_open else ("to open", "to shut")
    yield Fact(words=f"time {driven}", value=f"about {settings.opening_s:g} s", source=COMMON_PRACTICE)
    yield Fact(words=f"time {spring}", value=f"about {settings.closing_s:g} s", source=FROM_MEMORY)
    if settings.end_switch != "none":
        yield Fact(words="end switch rating", value=f"{settings.switch_a or 0:g} A", source=FROM_MEMORY)
    if settings.end_switch == "make":
        yield Fact(
            words="grey and orange",
            value="one volt-free contact: either side may be fed",
            source=COMMON_PRACTICE,
        )
    if settings.end_switch == "change-over":
        yield Fact(
            words="white",
            value=f"joined to {settings.white_joins} while the valve is shut; grey and orange while it is open",
            source=FROM_MEMORY,
        )
    if not rests_open:
        yield Fact(words="lever", value="lets go when the motor next drives", source=COMMON_PRACTICE)


class MotorOpenCloseSettings(Settings):
    """What is recorded of a valve that a motor opens and a motor shuts."""

    size_mm: Annotated[Literal[15, 22, 28] | None, Field(description="Pipe size in millimetre.")] = None
    end_switch: Annotated[
        EndSwitch,
        Field(
            description="make: between `switch-a` and `switch-b`, made while open. change-over: `switch-c` is joined to "
            "`switch-b` while it is not open. none: the lead has no switch cores."
        ),
    ] = "make"
    lamp: Annotated[
        Literal["none", "motor", "switch"],
        Field(description="Indicator lamp: lit from `open` to neutral, or from `switch-b` to neutral."),
    ] = "none"
    motor_w: Annotated[float, Field(gt=0, le=50, description="Motor power in watt while it moves.")] = 6.0
    power_factor: Annotated[float, Field(gt=0, le=1, description="Power factor of the motor.")] = 0.8
    travel_s: Annotated[float, Field(gt=0, le=600, description="Seconds from shut to open, and back.")] = 60.0
    switch_a: Annotated[float | None, Field(gt=0, le=20, description="End switch rating in ampere.")] = 3.0


def _motor_open_close(settings: MotorOpenCloseSettings) -> DeviceParts:
    opens, shuts, stands_open = Fed("opening"), Fed("closing"), Is("open")
    switched = settings.end_switch != "none"
    watts, power_factor = settings.motor_w, settings.power_factor
    return DeviceParts(
        terminals=(
            Terminal(name="open", words="motor, opening", role=Role.SWITCHED_LINE, usual_core="BN"),
            Terminal(name="close", words="motor, closing", role=Role.SWITCHED_LINE, usual_core="BK"),
            NEUTRAL,
            EARTH,
            *end_switch_terminals(settings.end_switch),
        ),
        inner=("opening-line", "closing-line"),
        contacts=(
            Contact(
                name="opening-limit",
                words="limit switch",
                a="open",
                b="opening-line",
                when=Not(stands_open),
                rated_a=settings.switch_a,
            ),
            Contact(
                name="closing-limit",
                words="limit switch",
                a="close",
                b="closing-line",
                when=stands_open,
                rated_a=settings.switch_a,
            ),
            *end_switch_contacts(settings.end_switch, settings.switch_a),
        ),
        loads=(
            motor_load("opening-line", watts, power_factor, name="opening", words="valve motor, opening"),
            motor_load("closing-line", watts, power_factor, name="closing", words="valve motor, closing"),
            *lamp_load(settings.lamp, {"motor": "open", **({"switch": "switch-b"} if switched else {})}),
        ),
        driven=(
            Driven(
                name="open",
                words="valve",
                on_words="open",
                off_words="shut",
                # Without power it stays where it is.
                when=Any((opens, All((stands_open, Not(shuts))))),
                on_s=settings.travel_s,
                off_s=settings.travel_s,
            ),
            *end_switch_driven(settings.end_switch, stands_open, on_s=0.0),
        ),
        facts=(
            Fact(words="without power", value="stays where it is: it has no spring", source=COMMON_PRACTICE),
            Fact(words="motor", value=f"{watts:g} W, only while it moves", source=COMMON_PRACTICE),
            Fact(words="time to open or to shut", value=f"about {settings.travel_s:g} s", source=FROM_MEMORY),
            Fact(words="power factor of the motor", value=f"{power_factor:g}", source=FROM_MEMORY),
            Fact(
                words="both terminals live",
                value="it leaves each end as soon as it is there: never wire it so",
                source="worked out from the limit switches",
            ),
            Fact(
                words="unvented cylinder",
                value="does not shut when its supply is lost, so no cut-out may act through it",
                source="Approved Document G, 3.31",
            ),
        ),
        protection=1,
    )


class BypassSettings(Settings):
    """What is recorded of an automatic bypass valve."""

    opens_kpa: Annotated[
        float | None, Field(gt=0, le=100, description="Pressure difference at which it opens, in kPa.")
    ] = None


def _no_parts(_: BypassSettings) -> DeviceParts:
    """A bypass has nothing electrical."""
    return DeviceParts()


TWO_PORT_VALVE = Kind(
    name="two-port-valve",
    words="two-port valve",
    duty=Duty.VALVE,
    about="A spring-return motorised valve: the motor opens it, the spring shuts it, and an end switch "
    "between grey and orange is made once it is open. Settings give those with a change-over end switch, with none, "
    "and normally open ones.",
    settings=TwoPortValveSettings,
    parts=_two_port_valve,
    example={"lever": "does not make", "lamp": "motor", "end_switch": "change-over"},
)

MOTOR_OPEN_CLOSE_VALVE = Kind(
    name="motor-open-motor-close-valve",
    words="motor-open, motor-close valve",
    duty=Duty.VALVE,
    about="A two-port valve without a spring: live on `open` opens it, live on `close` shuts it, and without power it "
    "stays where it is. It takes power only while it moves.",
    settings=MotorOpenCloseSettings,
    parts=_motor_open_close,
    example={"lamp": "switch", "end_switch": "change-over"},
)

AUTOMATIC_BYPASS = Kind(
    name="automatic-bypass",
    words="automatic bypass",
    duty=Duty.BYPASS,
    about="A spring-loaded valve from flow to return that opens when the pump meets shut valves. No terminals.",
    settings=BypassSettings,
    parts=_no_parts,
)
