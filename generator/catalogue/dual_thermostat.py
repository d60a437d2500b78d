"""The dual thermostat of a cylinder: control thermostat and hand-reset energy cut-out in one case.

Knows the parts of this kind only.
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import ALWAYS, Is, Not
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
from generator.catalogue.usual import EARTH, trip


class DualThermostatSettings(Settings):
    """What is recorded of a dual thermostat."""

    set_c: Annotated[
        float | None,
        Field(ge=20, le=90, description="The temperature its control thermostat is set to, in C."),
    ] = None
    linked: Annotated[
        bool,
        Field(
            description="True where cut-out and thermostat are joined in series inside, so that it has neither "
            "`cut-out-out` nor `common`."
        ),
    ] = False
    earth_terminal: Annotated[bool, Field(description="True where it has an earth terminal to be used.")] = (
        False
    )
    contact_a: Annotated[float | None, Field(gt=0, le=20, description="Contact rating in ampere.")] = 3.0


def _dual(settings: DualThermostatSettings) -> DeviceParts:
    middle = ("cut-out-out", "common")
    between = (
        Terminal(name="cut-out-out", words="cut-out, out", role=Role.OUTPUT),
        Terminal(name="common", words="common of the control thermostat", role=Role.CONTACT),
    )
    contacts = [
        Contact(
            name="cut-out",
            words="hand-reset energy cut-out",
            a="cut-out-in",
            b="cut-out-out",
            when=Not(Is("cut-out")),
            rated_a=settings.contact_a,
        ),
        Contact(
            name="call", words="contact", a="common", b="call", when=Is("calling"), rated_a=settings.contact_a
        ),
        Contact(
            name="satisfied",
            words="contact, satisfied side",
            a="common",
            b="satisfied",
            when=Not(Is("calling")),
            rated_a=settings.contact_a,
        ),
    ]
    if settings.linked:
        contacts.insert(1, Contact(name="link", words="link inside", a=middle[0], b=middle[1], when=ALWAYS))
    return DeviceParts(
        terminals=(
            Terminal(name="cut-out-in", words="cut-out, in", role=Role.CONTACT),
            *(() if settings.linked else between),
            Terminal(name="call", words="call for heat", role=Role.OUTPUT),
            Terminal(name="satisfied", words="satisfied", role=Role.OUTPUT, needed=False),
            *((EARTH,) if settings.earth_terminal else ()),
        ),
        inner=middle if settings.linked else (),
        inputs=(
            Input(
                name="calling",
                words="thermostat",
                on_words="calling for heat",
                off_words="satisfied",
                kind=InputKind.THERMOSTAT,
            ),
            trip("cut-out", "energy cut-out", "tripped", "set"),
        ),
        contacts=tuple(contacts),
        controls=(
            Control(name="dial", words="dial", does="sets the temperature of the hot water", input="calling"),
            Control(
                name="reset",
                words="reset button under a cover",
                does="sets the cut-out again, once somebody qualified has found out why it tripped",
                input="cut-out",
            ),
        ),
        facts=(
            Fact(
                words="cut-out",
                value="reset only by hand; must cut the heat at once",
                source="Approved Document G, 3.17 to 3.31",
            ),
            Fact(words="cut-out temperature", value="80 C to 90 C", source=COMMON_PRACTICE),
            Fact(words="usual setting", value="60 C to 65 C", source=COMMON_PRACTICE),
            Fact(words="contact rating", value=f"{settings.contact_a or 0:g} A", source=FROM_MEMORY),
        ),
        protection=1 if settings.earth_terminal else 2,
    )


DUAL_THERMOSTAT = Kind(
    name="dual-thermostat",
    words="dual cylinder thermostat",
    duty=Duty.CYLINDER_THERMOSTAT,
    about="Control thermostat and hand-reset energy cut-out of a cylinder in one case, in series. Give the cylinder "
    "`cut_out: on the thermostat`.",
    settings=DualThermostatSettings,
    parts=_dual,
    example={"earth_terminal": True},
)
