"""Heat besides the boiler's: the solar controller with its pump, and the solid-fuel stove.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Fed, Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
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
from generator.catalogue.usual import EARTH, LINE, NEUTRAL, pair


def _load(name: str, words: str, a: str, watts: float, factor: float, kind: LoadKind) -> Load:
    return Load(name=name, words=words, a=a, b="N", watts=watts, power_factor=factor, kind=kind)


class SolarStationSettings(Settings):
    """What is recorded of a solar controller and its pump."""

    watts: Annotated[float, Field(gt=0, le=200, description="Power of its pump in watt.")] = 40.0
    holds_boiler: Annotated[
        bool,
        Field(
            description="True where it keeps the boiler from heating the cylinder while the sun does: a contact between "
            "`hold-a` and `hold-b`, broken meanwhile."
        ),
    ] = False


def _solar(settings: SolarStationSettings) -> DeviceParts:
    hold = (
        Terminal(name="hold-a", words="boiler's hot water call, in", role=Role.CONTACT),
        Terminal(name="hold-b", words="boiler's hot water call, out", role=Role.OUTPUT),
    )
    held = Contact(
        name="hold", words="boiler hold-off contact", a="hold-a", b="hold-b", when=Not(Is("pumping"))
    )
    return DeviceParts(
        terminals=(
            LINE,
            NEUTRAL,
            EARTH,
            # The sensors come with it, on their own leads, and are no devices of the record.
            *pair("collector", "sensor on the collector", needed=False),
            *pair("cylinder", "sensor at the solar coil", needed=False),
            *(hold if settings.holds_boiler else ()),
        ),
        inner=("pump-line",),
        inputs=(
            Input(
                name="sun",
                words="collector",
                on_words="hotter than the cylinder",
                off_words="no hotter than the cylinder",
                kind=InputKind.SENSOR,
            ),
        ),
        contacts=(
            Contact(name="pump", words="its pump contact", a="L", b="pump-line", when=Is("pumping")),
            *((held,) if settings.holds_boiler else ()),
        ),
        loads=(
            _load("electronics", "solar controller", "L", 3.0, 1.0, LoadKind.ELECTRONICS),
            # A motor and no pump of the heating: it moves the fluid of the collector alone.
            _load("pump", "solar pump", "pump-line", settings.watts, 0.9, LoadKind.MOTOR),
        ),
        driven=(
            Driven(
                name="pumping",
                words="solar pump",
                on_words="running",
                off_words="off",
                when=All((Is("sun"), Fed("electronics"))),
                on_s=5.0,
                off_s=5.0,
            ),
        ),
        facts=(
            Fact(
                words="its pump",
                value=f"{settings.watts:g} W; moves the collector's fluid alone",
                source=FROM_MEMORY,
            ),
            Fact(
                words="unvented cylinder",
                value="every source of heat needs a cut-out of its own",
                source="Approved Document G, 3.32 and 3.33",
            ),
        ),
        protection=1,
    )


class StoveSettings(Settings):
    """What is recorded of a solid-fuel stove with a boiler."""

    heat_leak: Annotated[
        Literal["seen", "not seen", "none"],
        Field(description="A radiator or coil that takes its heat by gravity, whatever is switched off."),
    ] = "not seen"


def _stove(_: StoveSettings) -> DeviceParts:
    return DeviceParts(
        facts=(
            Fact(
                words="heat",
                value="cannot be switched off; it must always have a way",
                source=COMMON_PRACTICE,
            ),
            Fact(
                words="circulation",
                value="never to depend on a pump, a valve or a supply alone",
                source=COMMON_PRACTICE,
            ),
        )
    )


SOLAR_STATION = Kind(
    name="solar-station",
    words="solar controller with pump",
    duty=Duty.SOLAR,
    about="The controller of solar panels that heat a coil in the cylinder, with its pump.",
    settings=SolarStationSettings,
    parts=_solar,
    example={"holds_boiler": True},
)

SOLID_FUEL_STOVE = Kind(
    name="solid-fuel-stove",
    words="solid-fuel stove",
    duty=Duty.UNCONTROLLED_HEAT,
    about="A stove with a boiler in it: heat that no control stops. It has no terminals; give its pump a "
    "`pipe-thermostat` with `watches: heat to be carried away`.",
    settings=StoveSettings,
    parts=_stove,
)
