"""The two-port motorised valve and the automatic bypass: what opens and shuts water paths.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Expr, Fed, Is, Unsure
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    Control,
    DeviceParts,
    Driven,
    Fact,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Terminal,
)


class TwoPortValveSettings(Settings):
    """What is recorded of a two-port spring-return valve."""

    size_mm: Annotated[Literal[15, 22, 28] | None, Field(description="Pipe size in millimetre.")] = None
    lever: Annotated[
        Literal["makes", "does not make", "unknown", "none"],
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
    opening_s: Annotated[float, Field(gt=0, le=600, description="Seconds from rest to fully open.")] = 12.0
    closing_s: Annotated[float, Field(gt=0, le=600, description="Seconds for the spring to shut it.")] = 6.0
    switch_a: Annotated[float | None, Field(gt=0, le=20, description="End switch rating in ampere.")] = 3.0


def _two_port_valve(settings: TwoPortValveSettings) -> DeviceParts:
    motor, lever = Fed("motor"), Is("lever")
    by_lever: dict[str, tuple[Expr, ...]] = {
        "makes": (lever,),
        "does not make": (),
        "unknown": (All((lever, Unsure())),),
        "none": (),
    }
    inputs: tuple[Input, ...] = ()
    controls: tuple[Control, ...] = ()
    open_when: Expr = motor
    if settings.lever != "none":
        open_when = Any((motor, lever))
        inputs = (
            Input(
                name="lever",
                words="manual lever",
                on_words="latched open",
                off_words="at rest",
                kind=InputKind.LEVER,
                normal=False,
            ),
        )
        controls = (
            Control(
                name="lever",
                words="manual lever",
                does="opens the valve by hand; lets go by itself the next time the motor drives",
                input="lever",
            ),
        )
    loads = [
        Load(
            name="motor",
            words="valve motor",
            a="motor",
            b="N",
            watts=settings.motor_w,
            power_factor=settings.power_factor,
            kind=LoadKind.MOTOR,
        )
    ]
    if settings.lamp != "none":
        loads.append(
            Load(
                name="lamp",
                words="indicator lamp",
                a="motor" if settings.lamp == "motor" else "switch-b",
                b="N",
                watts=0.5,
                power_factor=1.0,
                kind=LoadKind.LAMP,
            )
        )
    return DeviceParts(
        terminals=(
            Terminal(name="motor", words="motor", role=Role.SWITCHED_LINE, usual_core="BN"),
            Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU"),
            Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE"),
            Terminal(name="switch-a", words="end switch", role=Role.CONTACT, usual_core="GY"),
            Terminal(name="switch-b", words="end switch", role=Role.CONTACT, usual_core="OG"),
        ),
        inputs=inputs,
        contacts=(
            Contact(
                name="end-switch",
                words="end switch",
                a="switch-a",
                b="switch-b",
                when=Is("end-switch"),
                rated_a=settings.switch_a,
            ),
        ),
        loads=tuple(loads),
        driven=(
            Driven(
                name="open",
                words="valve",
                on_words="open",
                off_words="shut",
                when=open_when,
                on_s=settings.opening_s,
                off_s=settings.closing_s,
            ),
            Driven(
                name="end-switch",
                words="end switch",
                on_words="made",
                off_words="broken",
                when=Any((motor, *by_lever[settings.lever])),
                on_s=settings.opening_s,
                off_s=0.5,
            ),
        ),
        controls=controls,
        facts=(
            Fact(words="motor", value=f"{settings.motor_w:g} W while held open", source=COMMON_PRACTICE),
            Fact(words="power factor of the motor", value=f"{settings.power_factor:g}", source=FROM_MEMORY),
            Fact(words="time to open", value=f"about {settings.opening_s:g} s", source=COMMON_PRACTICE),
            Fact(words="time to shut", value=f"about {settings.closing_s:g} s", source=FROM_MEMORY),
            Fact(words="end switch rating", value=f"{settings.switch_a or 0:g} A", source=FROM_MEMORY),
            Fact(
                words="grey and orange",
                value="one volt-free contact: either side may be fed",
                source=COMMON_PRACTICE,
            ),
            Fact(words="lever", value="lets go when the motor next drives", source=COMMON_PRACTICE),
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
    "between grey and orange is made once it is open.",
    settings=TwoPortValveSettings,
    parts=_two_port_valve,
    example={"lever": "does not make", "lamp": "motor"},
)

AUTOMATIC_BYPASS = Kind(
    name="automatic-bypass",
    words="automatic bypass",
    duty=Duty.BYPASS,
    about="A spring-loaded valve from flow to return that opens when the pump meets shut valves. No terminals.",
    settings=BypassSettings,
    parts=_no_parts,
)
