"""Frost and pipe thermostats: sensors that call by themselves, whatever the zones want.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    Control,
    DeviceParts,
    Fact,
    Input,
    InputKind,
    Role,
    Terminal,
)
from generator.catalogue.usual import EARTH

_CONTACT_A = Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")]
_EARTH_TERMINAL = Annotated[bool, Field(description="True where it has an earth terminal to be used.")]


class FrostThermostatSettings(Settings):
    """What is recorded of a frost thermostat."""

    set_c: Annotated[
        float | None, Field(ge=-5, le=15, description="The air temperature it is set to, in C.")
    ] = None
    poles: Annotated[
        Literal[1, 2],
        Field(description="2: a second contact, `common-2` to `call-2`, to open a valve as well as to call."),
    ] = 1
    earth_terminal: _EARTH_TERMINAL = False
    contact_a: _CONTACT_A = 3.0


def _frost(settings: FrostThermostatSettings) -> DeviceParts:
    terminals: list[Terminal] = []
    contacts: list[Contact] = []
    for number in range(1, settings.poles + 1):
        common, call = ("common", "call") if number == 1 else (f"common-{number}", f"call-{number}")
        pole = "" if number == 1 else f" of pole {number}"
        terminals += [
            Terminal(name=common, words=f"common{pole}", role=Role.CONTACT),
            Terminal(name=call, words=f"frost call{pole}", role=Role.OUTPUT),
        ]
        contacts.append(
            Contact(
                name=call,
                words=f"frost contact{pole}",
                a=common,
                b=call,
                when=Is("calling"),
                rated_a=settings.contact_a,
            )
        )
    return DeviceParts(
        terminals=(*terminals, *((EARTH,) if settings.earth_terminal else ())),
        inputs=(
            Input(
                name="calling",
                words="frost thermostat",
                on_words="calling for frost protection",
                off_words="at rest",
                kind=InputKind.SENSOR,
                calls=True,
            ),
        ),
        contacts=tuple(contacts),
        controls=(
            Control(
                name="dial",
                words="dial, often behind the cover",
                does="sets the air temperature at which it calls",
                input="calling",
            ),
        ),
        facts=(
            Fact(words="usual setting", value="about 5 C", source=COMMON_PRACTICE),
            Fact(
                words="wiring",
                value="in series with a pipe thermostat, past the time and room controls",
                source=COMMON_PRACTICE,
            ),
            Fact(words="power cut or spur off", value="no frost protection at all", source=COMMON_PRACTICE),
        ),
        protection=1 if settings.earth_terminal else 2,
    )


class PipeThermostatSettings(Settings):
    """What is recorded of a pipe thermostat."""

    watches: Annotated[
        Literal["frost", "heat to be carried away", "other"],
        Field(
            description="frost: lets the frost thermostat's call through while the pipe is cold. heat to be carried away: "
            "runs a pump while the pipe is hot, whatever the zones want, as at a stove. other: anything else."
        ),
    ] = "frost"
    set_c: Annotated[
        float | None, Field(ge=0, le=90, description="The pipe temperature it is set to, in C.")
    ] = None
    earth_terminal: _EARTH_TERMINAL = False
    contact_a: _CONTACT_A = 3.0


def _pipe(settings: PipeThermostatSettings) -> DeviceParts:
    carries = settings.watches == "heat to be carried away"
    return DeviceParts(
        terminals=(
            Terminal(name="common", words="common", role=Role.CONTACT),
            Terminal(name="cold", words="made while the pipe is cold", role=Role.OUTPUT, needed=False),
            Terminal(name="hot", words="made while the pipe is hot", role=Role.OUTPUT, needed=False),
            *((EARTH,) if settings.earth_terminal else ()),
        ),
        inputs=(
            Input(
                name="hot",
                words="pipe thermostat",
                on_words="hot",
                off_words="cold",
                kind=InputKind.SENSOR,
                calls=carries,
            ),
        ),
        contacts=(
            Contact(
                name="cold",
                words="contact, cold side",
                a="common",
                b="cold",
                when=Not(Is("hot")),
                rated_a=settings.contact_a,
            ),
            Contact(
                name="hot",
                words="contact, hot side",
                a="common",
                b="hot",
                when=Is("hot"),
                rated_a=settings.contact_a,
            ),
        ),
        facts=(
            Fact(words="on the return, for frost", value="breaks at about 25 C", source=COMMON_PRACTICE),
            Fact(words="at a stove", value="made at about 50 C", source=FROM_MEMORY),
        ),
        protection=1 if settings.earth_terminal else 2,
    )


FROST_THERMOSTAT = Kind(
    name="frost-thermostat",
    words="frost thermostat",
    duty=Duty.FROST_THERMOSTAT,
    about="An air thermostat that calls the boiler past every time and room control when a place is near freezing. "
    "Its call is by design: a boiler that it fires is not on without a call.",
    settings=FrostThermostatSettings,
    parts=_frost,
    example={"poles": 2, "earth_terminal": True},
)

PIPE_THERMOSTAT = Kind(
    name="pipe-thermostat",
    words="pipe thermostat",
    duty=Duty.PIPE_THERMOSTAT,
    about="A change-over thermostat strapped to a pipe. In series with a frost thermostat it stops the boiler once the "
    "return is warm; at a stove it runs the pump while the pipe is hot.",
    settings=PipeThermostatSettings,
    parts=_pipe,
    example={"earth_terminal": True},
)
