"""The relay: a coil and change-over contacts.

Terminal marks are those of EN 50005 (coil A1, A2; change-over 11, 12, 14).
"""

from typing import Annotated

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import Fed, Is, Not
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


class RelaySettings(Settings):
    """What is recorded of a relay."""

    poles: Annotated[int, Field(ge=1, le=4, description="How many change-over contacts it has.")] = 1
    coil_w: Annotated[float, Field(gt=0, le=20, description="Power of the coil in watt.")] = 1.5
    contact_a: Annotated[float | None, Field(gt=0, le=40, description="Contact rating in ampere.")] = 5.0


def _relay(settings: RelaySettings) -> DeviceParts:
    terminals = [
        Terminal(name="A1", words="coil", role=Role.SWITCHED_LINE),
        Terminal(name="A2", words="coil", role=Role.NEUTRAL),
    ]
    contacts = []
    for pole in range(1, settings.poles + 1):
        common, rest, work = f"{pole}1", f"{pole}2", f"{pole}4"
        terminals += [
            Terminal(name=common, words=f"pole {pole}, common", role=Role.CONTACT, needed=False),
            Terminal(name=rest, words=f"pole {pole}, made at rest", role=Role.CONTACT, needed=False),
            Terminal(name=work, words=f"pole {pole}, made when pulled in", role=Role.CONTACT, needed=False),
        ]
        contacts += [
            Contact(
                name=f"rest-{pole}",
                words=f"contact {common}-{rest}",
                a=common,
                b=rest,
                when=Not(Is("pulled-in")),
                rated_a=settings.contact_a,
            ),
            Contact(
                name=f"work-{pole}",
                words=f"contact {common}-{work}",
                a=common,
                b=work,
                when=Is("pulled-in"),
                rated_a=settings.contact_a,
            ),
        ]
    return DeviceParts(
        terminals=tuple(terminals),
        contacts=tuple(contacts),
        loads=(
            Load(
                name="coil",
                words="coil",
                a="A1",
                b="A2",
                watts=settings.coil_w,
                power_factor=0.6,
                kind=LoadKind.COIL,
            ),
        ),
        driven=(
            Driven(
                name="pulled-in",
                words="relay",
                on_words="pulled in",
                off_words="released",
                when=Fed("coil"),
                on_s=0.02,
                off_s=0.02,
            ),
        ),
        facts=(Fact(words="coil", value=f"{settings.coil_w:g} W, power factor 0.6", source=FROM_MEMORY),),
        protection=2,
    )


RELAY = Kind(
    name="relay",
    words="relay",
    duty=Duty.RELAY,
    about="A coil that moves one or more change-over contacts.",
    settings=RelaySettings,
    parts=_relay,
    example={"poles": 2},
)
