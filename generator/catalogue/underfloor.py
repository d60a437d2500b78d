"""Underfloor heating: thermal actuators and the blending set.

Knows the parts of these kinds only.
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Expr, Fed, Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    DeviceParts,
    Driven,
    Fact,
    Load,
    LoadKind,
    Role,
    Terminal,
)
from generator.catalogue.usual import EARTH, NEUTRAL, SWITCHED_LINE, trip


class ThermalActuatorSettings(Settings):
    """What is recorded of a thermal actuator."""

    end_switch: Annotated[
        bool, Field(description="True where it has an end switch between `switch-a` and `switch-b`.")
    ] = False
    watts: Annotated[float, Field(gt=0, le=10, description="Power while held open, in watt.")] = 2.0
    opening_s: Annotated[float, Field(gt=0, le=1200, description="Seconds from cold to open.")] = 240.0
    closing_s: Annotated[float, Field(gt=0, le=1200, description="Seconds to shut again.")] = 300.0
    inrush_a: Annotated[float, Field(gt=0, le=2, description="Current for the first moment, in ampere.")] = (
        0.3
    )


def _actuator(settings: ThermalActuatorSettings) -> DeviceParts:
    switch = (
        (
            Terminal(name="switch-a", words="end switch", role=Role.CONTACT, usual_core="GY", needed=False),
            Terminal(name="switch-b", words="end switch", role=Role.CONTACT, usual_core="OG", needed=False),
        )
        if settings.end_switch
        else ()
    )
    heated: Expr = Fed("wax")
    driven = [
        Driven(
            name="open",
            words="actuator",
            on_words="open",
            off_words="shut",
            when=heated,
            on_s=settings.opening_s,
            off_s=settings.closing_s,
        )
    ]
    contacts: tuple[Contact, ...] = ()
    if settings.end_switch:
        driven.append(
            Driven(
                name="end-switch",
                words="end switch",
                on_words="made",
                off_words="broken",
                when=heated,
                on_s=settings.opening_s,
                off_s=settings.closing_s / 2,
            )
        )
        contacts = (
            Contact(name="end-switch", words="end switch", a="switch-a", b="switch-b", when=Is("end-switch")),
        )
    return DeviceParts(
        terminals=(SWITCHED_LINE, NEUTRAL, *switch),
        contacts=contacts,
        loads=(
            Load(
                name="wax",
                words="heater of the actuator",
                a="L",
                b="N",
                watts=settings.watts,
                power_factor=1.0,
                kind=LoadKind.HEATER,
            ),
        ),
        driven=tuple(driven),
        facts=(
            Fact(words="power while held open", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="inrush", value=f"{settings.inrush_a:g} A for a moment", source=FROM_MEMORY),
            Fact(words="time to open", value=f"about {settings.opening_s / 60:g} min", source=FROM_MEMORY),
            Fact(words="without supply", value="shut", source=COMMON_PRACTICE),
        ),
        protection=2,
    )


class BlendingSetSettings(Settings):
    """What is recorded of a blending set."""

    limit_thermostat: Annotated[
        bool, Field(description="True where a thermostat on it stops its pump when the water is too hot.")
    ] = True
    set_c: Annotated[
        float | None, Field(ge=20, le=70, description="The mixed temperature it is set to, in C.")
    ] = None
    watts: Annotated[float, Field(gt=0, le=200, description="Power of its pump in watt.")] = 45.0


def _blending(settings: BlendingSetSettings) -> DeviceParts:
    limited = settings.limit_thermostat
    return DeviceParts(
        terminals=(SWITCHED_LINE, NEUTRAL, EARTH),
        inner=("pump-line",) if limited else (),
        inputs=(trip("limit", "limit thermostat", "tripped", "set"),) if limited else (),
        contacts=(
            Contact(
                name="limit",
                words="limit thermostat",
                a="L",
                b="pump-line",
                when=Not(Is("limit")),
                rated_a=None,
            ),
        )
        if limited
        else (),
        loads=(
            Load(
                name="motor",
                words="pump of the blending set",
                a="pump-line" if limited else "L",
                b="N",
                watts=settings.watts,
                power_factor=0.9,
                kind=LoadKind.PUMP,
            ),
        ),
        driven=(
            Driven(
                name="running",
                words="pump of the blending set",
                on_words="running",
                off_words="off",
                when=Fed("motor"),
                on_s=1.0,
                off_s=1.0,
            ),
        ),
        facts=(
            Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="floor temperature", value="mixed down to about 35 C to 50 C", source=COMMON_PRACTICE),
        ),
        protection=1,
    )


THERMAL_ACTUATOR = Kind(
    name="thermal-actuator",
    words="thermal actuator",
    duty=Duty.VALVE,
    about="A head filled with wax that opens one loop of a manifold while it is heated; it takes minutes. A zone may "
    "name it as its `valve`.",
    settings=ThermalActuatorSettings,
    parts=_actuator,
    example={"end_switch": True},
)

BLENDING_SET = Kind(
    name="blending-set",
    words="blending set",
    duty=Duty.PUMP,
    about="A mixing valve with a pump of its own, which keeps water for a floor cooler than the boiler makes it.",
    settings=BlendingSetSettings,
    parts=_blending,
)
