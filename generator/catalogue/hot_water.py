"""The hot water cylinder and the immersion heater.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Fed, Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
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

_AD_G = "Approved Document G, 3.17 to 3.31"


class CylinderSettings(Settings):
    """What is recorded of a hot water cylinder."""

    system: Annotated[
        Literal["vented", "unvented", "thermal store"],
        Field(
            description="vented: fed from a tank, open at the top. unvented: at mains pressure, with safety devices. "
            "thermal store: holds heating water, which heats tap water on its way through."
        ),
    ]
    litres: Annotated[int | None, Field(ge=20, le=1000, description="Capacity in litre.")] = None
    cut_out: Annotated[
        Literal["none", "wired", "on the boiler", "on the thermostat"],
        Field(
            description="Hand-reset energy cut-out: `wired` gives the cylinder terminals `cut-out-in` and "
            "`cut-out-out`; `on the boiler` where the boiler carries it; `on the thermostat` where it is in one case "
            "with the thermostat, a `dual-thermostat`."
        ),
    ] = "none"
    other_heat: Annotated[
        tuple[Literal["solar coil", "heat pump coil", "solid fuel coil", "immersion heater"], ...],
        Field(strict=False, description="What heats it besides the boiler.", examples=[["solar coil"]]),
    ] = ()
    relief_valve: Annotated[
        Literal["seen", "not seen", "none"],
        Field(description="Temperature and pressure relief valve on the cylinder."),
    ] = "not seen"


def _cylinder(settings: CylinderSettings) -> DeviceParts:
    if settings.cut_out != "wired":
        return DeviceParts()
    return DeviceParts(
        terminals=(
            Terminal(name="cut-out-in", words="cut-out, in", role=Role.CONTACT),
            Terminal(name="cut-out-out", words="cut-out, out", role=Role.OUTPUT),
        ),
        inputs=(
            Input(
                name="cut-out",
                words="energy cut-out",
                on_words="tripped",
                off_words="set",
                kind=InputKind.TRIP,
                normal=False,
            ),
        ),
        contacts=(
            Contact(
                name="cut-out",
                words="hand-reset energy cut-out",
                a="cut-out-in",
                b="cut-out-out",
                when=Not(Is("cut-out")),
                rated_a=None,
            ),
        ),
        facts=(
            Fact(words="cut-out", value="reset only by hand; must cut the heat at once", source=_AD_G),
            Fact(words="cut-out temperature", value="80 C to 90 C", source=COMMON_PRACTICE),
        ),
        protection=None,
    )


class ImmersionSettings(Settings):
    """What is recorded of an immersion heater."""

    watts: Annotated[float, Field(gt=0, le=9000, description="Power in watt.")] = 3000.0
    thermostat: Annotated[
        Literal["tested", "seen", "not seen"], Field(description="Its own thermostat, as last looked at.")
    ] = "not seen"
    cut_out: Annotated[
        Literal["tested", "seen", "not seen"], Field(description="Its hand-reset cut-out, as last looked at.")
    ] = "not seen"


def _immersion(settings: ImmersionSettings) -> DeviceParts:
    return DeviceParts(
        terminals=(
            Terminal(name="L", words="line", role=Role.SWITCHED_LINE, usual_core="BN"),
            Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU"),
            Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE"),
        ),
        inner=("element",),
        inputs=(
            Input(
                name="hot",
                words="immersion heater's own thermostat",
                on_words="satisfied",
                off_words="calling",
                kind=InputKind.TRIP,
                normal=False,
            ),
            Input(
                name="cut-out",
                words="immersion heater's cut-out",
                on_words="tripped",
                off_words="set",
                kind=InputKind.TRIP,
                normal=False,
            ),
        ),
        contacts=(
            Contact(
                name="own-controls",
                words="own thermostat and cut-out",
                a="L",
                b="element",
                when=All((Not(Is("hot")), Not(Is("cut-out")))),
            ),
        ),
        loads=(
            Load(
                name="element",
                words="heating element",
                a="element",
                b="N",
                watts=settings.watts,
                power_factor=1.0,
                kind=LoadKind.HEATER,
            ),
        ),
        driven=(
            Driven(
                name="heating",
                words="immersion heater",
                on_words="heating",
                off_words="off",
                when=Fed("element"),
            ),
        ),
        facts=(Fact(words="power", value=f"{settings.watts:g} W", source=COMMON_PRACTICE),),
        protection=1,
    )


CYLINDER = Kind(
    name="cylinder",
    words="hot water cylinder",
    duty=Duty.CYLINDER,
    about="The store of hot water. Its thermostat is a device of its own.",
    settings=CylinderSettings,
    parts=_cylinder,
    example={"system": "unvented", "cut_out": "wired"},
)

IMMERSION_HEATER = Kind(
    name="immersion-heater",
    words="immersion heater",
    duty=Duty.IMMERSION,
    about="An electric element in the cylinder with its own thermostat and hand-reset cut-out, normally on "
    "a supply of its own: give it a second `fused-spur`.",
    settings=ImmersionSettings,
    parts=_immersion,
)
