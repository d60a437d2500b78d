"""Room, programmable room and cylinder thermostats: sensors with contacts.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

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
    Load,
    LoadKind,
    Role,
    Terminal,
)

_CALLING = Input(
    name="calling",
    words="thermostat",
    on_words="calling for heat",
    off_words="satisfied",
    kind=InputKind.THERMOSTAT,
)
_EARTH = Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE")
_NEUTRAL = Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU")


def _contacts(satisfied: bool, rated_a: float | None) -> tuple[Contact, ...]:
    call = Contact(name="call", words="contact", a="common", b="call", when=Is("calling"), rated_a=rated_a)
    if not satisfied:
        return (call,)
    return (
        call,
        Contact(
            name="satisfied",
            words="contact, satisfied side",
            a="common",
            b="satisfied",
            when=Not(Is("calling")),
            rated_a=rated_a,
        ),
    )


def _switch_terminals(satisfied: bool) -> tuple[Terminal, ...]:
    terminals = (
        Terminal(name="common", words="common", role=Role.CONTACT),
        Terminal(name="call", words="call for heat", role=Role.OUTPUT),
    )
    if not satisfied:
        return terminals
    return (*terminals, Terminal(name="satisfied", words="satisfied", role=Role.OUTPUT, needed=False))


class RoomThermostatSettings(Settings):
    """What is recorded of a room thermostat."""

    wires: Annotated[
        Literal[2, 3],
        Field(description="2: a plain contact. 3: a neutral as well, for its heater or its electronics."),
    ] = 2
    type: Annotated[
        Literal["mechanical", "electronic"],
        Field(description="How it senses; a reader's note, not a circuit fact."),
    ] = "mechanical"
    satisfied_terminal: Annotated[
        bool, Field(description="True where it has a terminal that is made while satisfied.")
    ] = False
    earth_terminal: Annotated[
        bool, Field(description="True where it is of class I, or has an earth terminal to be used.")
    ] = False
    own_radiator_valve: Annotated[
        bool, Field(description="True where a radiator in the same room has a thermostatic valve.")
    ] = False
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _room_thermostat(settings: RoomThermostatSettings) -> DeviceParts:
    terminals = list(_switch_terminals(settings.satisfied_terminal))
    loads: tuple[Load, ...] = ()
    if settings.wires == 3:
        terminals.append(_NEUTRAL)
        mechanical = settings.type == "mechanical"
        loads = (
            Load(
                name="heater" if mechanical else "electronics",
                words="small heater inside" if mechanical else "electronics",
                a="call" if mechanical else "common",
                b="N",
                watts=0.5,
                power_factor=1.0,
                kind=LoadKind.HEATER if mechanical else LoadKind.ELECTRONICS,
            ),
        )
    if settings.earth_terminal:
        terminals.append(_EARTH)
    return DeviceParts(
        terminals=tuple(terminals),
        inputs=(_CALLING,),
        contacts=_contacts(settings.satisfied_terminal, settings.contact_a),
        loads=loads,
        controls=(
            Control(name="dial", words="dial or buttons", does="sets the room temperature", input="calling"),
        ),
        facts=(Fact(words="power through the neutral", value="0.5 W", source=FROM_MEMORY),) if loads else (),
        protection=1 if settings.earth_terminal else 2,
    )


class ProgrammableRoomThermostatSettings(Settings):
    """What is recorded of a programmable room thermostat."""

    power: Annotated[
        Literal["battery", "mains"], Field(description="What runs its clock; mains adds terminals L and N.")
    ] = "battery"
    linked: Annotated[
        bool,
        Field(
            description="With mains power: true where its common is joined inside to L, so it has no `common`."
        ),
    ] = False
    satisfied_terminal: Annotated[
        bool, Field(description="True where it has a terminal that is made while satisfied.")
    ] = False
    own_radiator_valve: Annotated[
        bool, Field(description="True where a radiator in the same room has a thermostatic valve.")
    ] = False
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0

    @model_validator(mode="after")
    def _link_needs_mains(self) -> Self:
        if self.linked and self.power != "mains":
            raise ValueError("`linked` is for a thermostat with `power: mains`")
        return self


def _programmable(settings: ProgrammableRoomThermostatSettings) -> DeviceParts:
    terminals = list(_switch_terminals(settings.satisfied_terminal))
    contacts = _contacts(settings.satisfied_terminal, settings.contact_a)
    loads: tuple[Load, ...] = ()
    if settings.power == "mains":
        terminals = [
            Terminal(name="L", words="line in", role=Role.PERMANENT_LINE, usual_core="BN"),
            _NEUTRAL,
            *(t for t in terminals if not (settings.linked and t.name == "common")),
        ]
        if settings.linked:
            contacts = tuple(
                Contact(name=c.name, words=c.words, a="L", b=c.b, when=c.when, rated_a=c.rated_a)
                for c in contacts
            )
        loads = (
            Load(
                name="clock",
                words="clock",
                a="L",
                b="N",
                watts=1.0,
                power_factor=1.0,
                kind=LoadKind.ELECTRONICS,
            ),
        )
    return DeviceParts(
        terminals=tuple(terminals),
        inputs=(_CALLING,),
        contacts=contacts,
        loads=loads,
        controls=(
            Control(
                name="buttons",
                words="buttons",
                does="sets the room temperature and the times",
                input="calling",
            ),
        ),
        facts=(Fact(words="power of the clock", value="1 W", source=FROM_MEMORY),) if loads else (),
        protection=2,
    )


class CylinderThermostatSettings(Settings):
    """What is recorded of a cylinder thermostat."""

    set_c: Annotated[
        float | None,
        Field(
            ge=20,
            le=90,
            description="The temperature it is set to, in C; left out where nobody has read it.",
            examples=[60],
        ),
    ] = None
    earth_terminal: Annotated[bool, Field(description="True where it has an earth terminal to be used.")] = (
        False
    )
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _cylinder_thermostat(settings: CylinderThermostatSettings) -> DeviceParts:
    return DeviceParts(
        terminals=(*_switch_terminals(True), *((_EARTH,) if settings.earth_terminal else ())),
        inputs=(_CALLING,),
        contacts=_contacts(True, settings.contact_a),
        controls=(
            Control(name="dial", words="dial", does="sets the temperature of the hot water", input="calling"),
        ),
        facts=(
            Fact(words="usual setting", value="60 C to 65 C", source=COMMON_PRACTICE),
            Fact(words="contact rating", value=f"{settings.contact_a or 0:g} A", source=FROM_MEMORY),
        ),
        protection=1 if settings.earth_terminal else 2,
    )


ROOM_THERMOSTAT = Kind(
    name="room-thermostat",
    words="room thermostat",
    duty=Duty.ROOM_THERMOSTAT,
    about="A thermostat on a wall, with a contact that is made while the room is too cold.",
    settings=RoomThermostatSettings,
    parts=_room_thermostat,
    example={"wires": 3, "satisfied_terminal": True, "earth_terminal": True},
)

PROGRAMMABLE_ROOM_THERMOSTAT = Kind(
    name="programmable-room-thermostat",
    words="programmable room thermostat",
    duty=Duty.ROOM_THERMOSTAT,
    about="A room thermostat with a clock of its own, so that its zone needs no timer channel.",
    settings=ProgrammableRoomThermostatSettings,
    parts=_programmable,
    example={"power": "mains", "satisfied_terminal": True},
)

CYLINDER_THERMOSTAT = Kind(
    name="cylinder-thermostat",
    words="cylinder thermostat",
    duty=Duty.CYLINDER_THERMOSTAT,
    about="A change-over thermostat strapped to the hot water cylinder: common to `call` while the water "
    "is too cool, common to `satisfied` once it is hot.",
    settings=CylinderThermostatSettings,
    parts=_cylinder_thermostat,
    example={"earth_terminal": True},
)
