"""Thermostats without a contact of their own on the wall: wireless receivers, and room units on a two-wire bus.

Knows the parts of these kinds only.
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Fed, Is, Not
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Bus,
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
from generator.catalogue.usual import LINE, NEUTRAL, pair

_OWN_VALVE = Annotated[
    bool, Field(description="True where a radiator in the same room has a thermostatic valve.")
]


class WirelessReceiverSettings(Settings):
    """What is recorded of a wireless receiver and its room unit."""

    satisfied_terminal: Annotated[
        bool, Field(description="True where it has a terminal that is made while satisfied.")
    ] = True
    linked: Annotated[
        bool, Field(description="True where its common is joined inside to L, so that it has no `common`.")
    ] = False
    own_radiator_valve: _OWN_VALVE = False
    watts: Annotated[float, Field(gt=0, le=20, description="Power of the receiver in watt.")] = 1.0
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _receiver(settings: WirelessReceiverSettings) -> DeviceParts:
    common = "L" if settings.linked else "common"
    terminals = [LINE, NEUTRAL]
    if not settings.linked:
        terminals.append(Terminal(name="common", words="common", role=Role.CONTACT))
    terminals.append(Terminal(name="call", words="call for heat", role=Role.OUTPUT))
    contacts = [
        Contact(
            name="call",
            words="relay contact",
            a=common,
            b="call",
            when=Is("relay"),
            rated_a=settings.contact_a,
        )
    ]
    if settings.satisfied_terminal:
        terminals.append(Terminal(name="satisfied", words="satisfied", role=Role.OUTPUT, needed=False))
        contacts.append(
            Contact(
                name="satisfied",
                words="relay contact, satisfied side",
                a=common,
                b="satisfied",
                when=Not(Is("relay")),
                rated_a=settings.contact_a,
            )
        )
    return DeviceParts(
        terminals=tuple(terminals),
        inputs=(
            Input(
                name="calling",
                words="room unit",
                on_words="calling for heat",
                off_words="satisfied",
                kind=InputKind.THERMOSTAT,
            ),
            Input(
                name="paired",
                words="radio link",
                on_words="working",
                off_words="lost",
                kind=InputKind.SENSOR,
                normal=True,
            ),
        ),
        contacts=tuple(contacts),
        loads=(
            Load(
                name="electronics",
                words="receiver",
                a="L",
                b="N",
                watts=settings.watts,
                power_factor=1.0,
                kind=LoadKind.ELECTRONICS,
            ),
        ),
        driven=(
            Driven(
                name="relay",
                words="receiver's relay",
                on_words="pulled in",
                off_words="released",
                when=All((Is("calling"), Is("paired"), Fed("electronics"))),
                on_s=1.0,
                off_s=1.0,
            ),
        ),
        controls=(
            Control(name="room unit", words="room unit", does="sets the room temperature", input="calling"),
        ),
        facts=(
            Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="link lost, or supply lost", value="the relay lets go", source=COMMON_PRACTICE),
            Fact(words="room unit", value="runs on batteries and has no terminals", source=COMMON_PRACTICE),
        ),
        protection=2,
    )


class BusThermostatSettings(Settings):
    """What is recorded of a room unit on a two-wire bus."""

    own_radiator_valve: _OWN_VALVE = False


def _bus_thermostat(_: BusThermostatSettings) -> DeviceParts:
    return DeviceParts(
        terminals=pair("bus", "two-wire bus"),
        inputs=(
            Input(
                name="calling",
                words="room unit",
                on_words="calling for heat",
                off_words="satisfied",
                kind=InputKind.THERMOSTAT,
            ),
        ),
        buses=(Bus(name="bus", a="bus-a", b="bus-b", tells=Is("calling")),),
        controls=(
            Control(name="buttons", words="room unit", does="sets the room temperature", input="calling"),
        ),
        facts=(
            Fact(
                words="call",
                value="a message over both wires; nothing in it joins the two",
                source=COMMON_PRACTICE,
            ),
            Fact(words="polarity", value="either way round", source=FROM_MEMORY),
            Fact(
                words="mains on the bus",
                value="destroys the unit and the boiler's board",
                source=COMMON_PRACTICE,
            ),
        ),
        protection=None,
    )


WIRELESS_RECEIVER = Kind(
    name="wireless-receiver",
    words="wireless receiver",
    duty=Duty.ROOM_THERMOSTAT,
    about="The wired half of a wireless room thermostat: a relay that a room unit works by radio. The room unit has no "
    "terminals and no device of its own in the record.",
    settings=WirelessReceiverSettings,
    parts=_receiver,
)

BUS_THERMOSTAT = Kind(
    name="bus-thermostat",
    words="room unit on a bus",
    duty=Duty.ROOM_THERMOSTAT,
    about="A room unit that calls a boiler with `demand: bus` by messages over two extra-low-voltage wires.",
    settings=BusThermostatSettings,
    parts=_bus_thermostat,
)
