"""The zone controller of underfloor heating, in which thermostats and actuators meet.

Knows the parts of this kind only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Fed, Is
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
from generator.catalogue.usual import EARTH, LINE, NEUTRAL


class ZoneControllerSettings(Settings):
    """What is recorded of an underfloor zone controller."""

    zones: Annotated[int, Field(ge=1, le=12, description="How many zones it has.")]
    boiler_enable: Annotated[
        Literal["volt-free", "switched live", "none"],
        Field(
            description="How it calls the boiler: a contact between `boiler-a` and `boiler-b`, a switched live on "
            "`boiler`, or not at all."
        ),
    ] = "volt-free"
    pump_output: Annotated[bool, Field(description="True where it has an output `pump`.")] = True
    delay_s: Annotated[
        float,
        Field(ge=0, le=900, description="How long pump and boiler wait for the actuators, in seconds."),
    ] = 180.0
    metal_box: Annotated[bool, Field(description="True for a metal box, which needs an earth on `E`.")] = (
        False
    )
    watts: Annotated[float, Field(gt=0, le=20, description="Power of its electronics in watt.")] = 3.0
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _controller(settings: ZoneControllerSettings) -> DeviceParts:
    terminals = [LINE, NEUTRAL, *((EARTH,) if settings.metal_box else ())]
    loads = [_small("electronics", "zone controller", "L", settings.watts)]
    contacts: list[Contact] = []
    driven: list[Driven] = []
    for number in range(1, settings.zones + 1):
        terminals += [
            Terminal(
                name=f"live-{number}", words=f"line to thermostat {number}", role=Role.OUTPUT, needed=False
            ),
            Terminal(
                name=f"call-{number}",
                words=f"call of thermostat {number}",
                role=Role.SWITCHED_LINE,
                needed=False,
            ),
            Terminal(
                name=f"actuator-{number}", words=f"actuators of zone {number}", role=Role.OUTPUT, needed=False
            ),
            Terminal(
                name=f"actuator-N-{number}",
                words=f"neutral of actuators {number}",
                role=Role.NEUTRAL,
                needed=False,
            ),
        ]
        loads.append(_small(f"call-{number}", f"thermostat input {number}", f"call-{number}", 0.5))
        contacts += [
            _bar(f"live-{number}", "L"),
            _bar(f"actuator-N-{number}", "N"),
            Contact(
                name=f"zone-{number}",
                words=f"output of zone {number}",
                a="L",
                b=f"actuator-{number}",
                when=Is(f"zone-{number}"),
                rated_a=settings.contact_a,
            ),
        ]
        driven.append(
            Driven(
                name=f"zone-{number}",
                words=f"output of zone {number}",
                on_words="on",
                off_words="off",
                when=All((Fed(f"call-{number}"), Fed("electronics"))),
                on_s=0.5,
                off_s=0.5,
            )
        )
    any_zone = Any(tuple(Is(f"zone-{number}") for number in range(1, settings.zones + 1)))
    outputs = list(_outputs(settings))
    for name, words, ends, a, b in outputs:
        terminals += ends
        contacts.append(Contact(name=name, words=words, a=a, b=b, when=Is(name), rated_a=settings.contact_a))
        driven.append(
            Driven(
                name=name,
                words=words,
                on_words="on",
                off_words="off",
                when=All((any_zone, Fed("electronics"))),
                on_s=settings.delay_s,
                off_s=0.5,
            )
        )
    return DeviceParts(
        terminals=tuple(terminals),
        contacts=tuple(contacts),
        loads=tuple(loads),
        driven=tuple(driven),
        facts=(
            Fact(
                words="pump and boiler",
                value=f"wait {settings.delay_s:g} s, until actuators have opened",
                source=COMMON_PRACTICE,
            ),
            Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),
        ),
        protection=1 if settings.metal_box else 2,
    )


_Output = tuple[str, str, tuple[Terminal, ...], str, str]


def _outputs(settings: ZoneControllerSettings) -> list[_Output]:
    found: list[_Output] = []
    if settings.pump_output:
        pump = Terminal(name="pump", words="pump output", role=Role.OUTPUT, needed=False)
        found.append(("pump", "pump output", (pump,), "L", "pump"))
    if settings.boiler_enable == "switched live":
        call = Terminal(name="boiler", words="boiler call", role=Role.OUTPUT)
        found.append(("boiler", "boiler call", (call,), "L", "boiler"))
    elif settings.boiler_enable == "volt-free":
        ends = tuple(
            Terminal(name=f"boiler-{side}", words="boiler enable, volt-free contact", role=Role.CONTACT)
            for side in ("a", "b")
        )
        found.append(("boiler", "boiler enable", ends, "boiler-a", "boiler-b"))
    return found


def _bar(terminal: str, rail: str) -> Contact:
    return Contact(name=f"bar-{terminal}", words="rail inside", a=rail, b=terminal, when=All(()))


def _small(name: str, words: str, point: str, watts: float) -> Load:
    return Load(
        name=name, words=words, a=point, b="N", watts=watts, power_factor=1.0, kind=LoadKind.ELECTRONICS
    )


ZONE_CONTROLLER = Kind(
    name="zone-controller",
    words="underfloor zone controller",
    duty=Duty.CONTROLLER,
    about="The box in which room thermostats meet the actuators of underfloor heating. When any zone calls it runs the "
    "pump and calls the boiler, once actuators have had time to open.",
    settings=ZoneControllerSettings,
    parts=_controller,
    example={"zones": 2},
)
