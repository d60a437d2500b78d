"""Pumps, and the parts of the water side that have no terminals.

Knows the parts of these kinds only.
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Expr, Fed, Is
from generator.catalogue.parts import (
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
from generator.catalogue.usual import EARTH, LINE, NEUTRAL, SWITCHED_LINE


class PumpSettings(Settings):
    """What is recorded of a pump."""

    control: Annotated[
        bool,
        Field(
            description="True where it has a permanent supply on `L` and runs while `run` is live, as pumps with "
            "electronics may."
        ),
    ] = False
    watts: Annotated[float, Field(gt=0, le=400, description="Power in watt while running.")] = 60.0
    power_factor: Annotated[float, Field(gt=0, le=1, description="Power factor of the pump.")] = 0.9


def _running(when: Expr) -> Driven:
    return Driven(
        name="running", words="pump", on_words="running", off_words="off", when=when, on_s=1.0, off_s=1.0
    )


def _pump(settings: PumpSettings) -> DeviceParts:
    facts = (Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),)
    motor = Load(
        name="motor",
        words="pump",
        a="motor-line" if settings.control else "L",
        b="N",
        watts=settings.watts,
        power_factor=settings.power_factor,
        kind=LoadKind.PUMP,
    )
    if not settings.control:
        return DeviceParts(
            terminals=(SWITCHED_LINE, NEUTRAL, EARTH),
            loads=(motor,),
            driven=(_running(Fed("motor")),),
            facts=facts,
            protection=1,
        )
    return DeviceParts(
        terminals=(
            LINE,
            NEUTRAL,
            EARTH,
            Terminal(name="run", words="switched live that makes it run", role=Role.SWITCHED_LINE),
        ),
        inner=("motor-line",),
        contacts=(Contact(name="drive", words="pump electronics", a="L", b="motor-line", when=Is("driven")),),
        loads=(
            motor,
            Load(
                name="control",
                words="control input of the pump",
                a="run",
                b="N",
                watts=1.0,
                power_factor=1.0,
                kind=LoadKind.ELECTRONICS,
            ),
        ),
        driven=(
            Driven(
                name="driven",
                words="pump electronics",
                on_words="driving",
                off_words="waiting",
                when=Fed("control"),
            ),
            _running(Fed("motor")),
        ),
        facts=(*facts, Fact(words="power of the control input", value="1 W", source=FROM_MEMORY)),
        protection=1,
    )


class WaterPartSettings(Settings):
    """What is recorded of a part of the water side."""

    litres: Annotated[float | None, Field(gt=0, le=2000, description="Capacity in litre.")] = None


def _no_terminals(_: WaterPartSettings) -> DeviceParts:
    return DeviceParts()


PUMP = Kind(
    name="pump",
    words="pump",
    duty=Duty.PUMP,
    about="The circulating pump outside the boiler.",
    settings=PumpSettings,
    parts=_pump,
    example={"control": True},
)

LOW_LOSS_HEADER = Kind(
    name="low-loss-header",
    words="low-loss header",
    duty=Duty.WATER,
    about="A wide pipe between the boiler's circuit and the zones', so that their pumps do not work against each other. "
    "No terminals.",
    settings=WaterPartSettings,
    parts=_no_terminals,
)

BUFFER = Kind(
    name="buffer",
    words="buffer",
    duty=Duty.WATER,
    about="A store of heating water that keeps a heat pump or boiler from starting too often. No terminals; its "
    "thermostat, where there is one, is a device of its own.",
    settings=WaterPartSettings,
    parts=_no_terminals,
)

MANIFOLD = Kind(
    name="manifold",
    words="underfloor manifold",
    duty=Duty.WATER,
    about="Where the loops of underfloor heating meet. No terminals; its actuators are devices of their own.",
    settings=WaterPartSettings,
    parts=_no_terminals,
)
