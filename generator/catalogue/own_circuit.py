"""A circuit of its own from the consumer unit, with its isolator: what feeds an electric boiler or a heat pump.

Knows the parts of this kind only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import ALWAYS, Is
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    Contact,
    Control,
    DeviceParts,
    Fact,
    Input,
    InputKind,
    Role,
    Supply,
    Terminal,
)


class OwnCircuitSettings(Settings):
    """What is recorded of a circuit of its own."""

    breaker_a: Annotated[
        Literal[6, 10, 16, 20, 25, 32, 40, 45, 50, 63],
        Field(description="Rating of its circuit breaker or fuse in ampere."),
    ]
    double_pole: Annotated[
        bool, Field(description="True where its isolator breaks line and neutral together.")
    ] = True
    feeds: Annotated[
        Literal["heating controls", "immersion heater", "electric boiler", "heat pump", "other"],
        Field(description="What this supply is meant for."),
    ] = "other"
    phase: Annotated[Literal[1, 2, 3], Field(description="Which phase of the supply it is on.")] = 1


def _own_circuit(settings: OwnCircuitSettings) -> DeviceParts:
    on = Is("isolator")
    return DeviceParts(
        terminals=(
            Terminal(name="L", words="line out", role=Role.OUTPUT, usual_core="BN"),
            Terminal(name="N", words="neutral out", role=Role.NEUTRAL, usual_core="BU"),
            Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE"),
        ),
        inner=("mains-line", "mains-neutral", "mains-earth"),
        inputs=(
            Input(
                name="isolator",
                words="isolator",
                on_words="on",
                off_words="off",
                kind=InputKind.ISOLATOR,
                normal=True,
            ),
        ),
        contacts=(
            Contact(name="line-way", words="isolator", a="mains-line", b="L", when=on),
            Contact(
                name="neutral-way",
                words="neutral pole of the isolator" if settings.double_pole else "unswitched neutral",
                a="mains-neutral",
                b="N",
                when=on if settings.double_pole else ALWAYS,
            ),
            Contact(name="earth-way", words="earth connection", a="mains-earth", b="E", when=ALWAYS),
        ),
        supplies=(
            Supply(
                name="mains",
                line="mains-line",
                neutral="mains-neutral",
                earth="mains-earth",
                volts=230.0,
                phase=settings.phase,
            ),
        ),
        controls=(
            Control(
                name="isolator",
                words="isolating switch",
                does="cuts the supply to what it feeds",
                input="isolator",
            ),
        ),
        facts=(
            Fact(words="isolation", value="double-pole, beside the appliance", source=COMMON_PRACTICE),
            Fact(
                words="two phases in one box",
                value="400 V between their lines",
                source=COMMON_PRACTICE,
            ),
        ),
        protection=2,
    )


OWN_CIRCUIT = Kind(
    name="own-circuit",
    words="circuit of its own",
    duty=Duty.SUPPLY,
    about="A circuit from the consumer unit to one appliance, with its isolator: for what a fused spur is too small for.",
    settings=OwnCircuitSettings,
    parts=_own_circuit,
    example={"breaker_a": 32},
)
