"""The fused spur and the wiring centre: where supply comes in and where the controls meet.

Knows the parts of these two kinds only.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.catalogue.kind import Duty, Kind, Settings, TerminalLabel
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


class FusedSpurSettings(Settings):
    """What is recorded of a fused spur."""

    fuse_a: Annotated[
        Literal[1, 2, 3, 5, 7, 10, 13], Field(description="Rating of the cartridge fuse fitted, in ampere.")
    ] = 3
    fuse_by_maker: Annotated[
        bool,
        Field(description="True where the appliance maker's instructions ask for a fuse other than 3 A."),
    ] = False
    double_pole: Annotated[
        bool, Field(description="True where the switch breaks line and neutral together.")
    ] = True
    switched: Annotated[
        bool, Field(description="False for a spur without a switch, isolated by drawing its fuse.")
    ] = True
    feeds: Annotated[
        Literal["heating controls", "immersion heater", "other"],
        Field(description="What this supply is meant for."),
    ] = "heating controls"
    phase: Annotated[Literal[1, 2, 3], Field(description="Which phase of the supply it is on.")] = 1


def _fused_spur(settings: FusedSpurSettings) -> DeviceParts:
    on = Is("isolator")
    contacts = [Contact(name="fuse-way", words="switch and fuse", a="mains-line", b="L", when=on)]
    pole_when = on if settings.double_pole and settings.switched else None
    contacts.append(
        Contact(
            name="neutral-way",
            words="neutral pole of the switch" if pole_when else "unswitched neutral",
            a="mains-neutral",
            b="N",
            when=pole_when or ALWAYS,
        )
    )
    contacts.append(Contact(name="earth-way", words="earth connection", a="mains-earth", b="E", when=ALWAYS))
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
        contacts=tuple(contacts),
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
                name="switch" if settings.switched else "fuse carrier",
                words="switch on the spur" if settings.switched else "fuse carrier",
                does="cuts the supply to the boiler and its controls",
                input="isolator",
            ),
        ),
        facts=(
            Fact(words="usual fuse", value="3 A", source=COMMON_PRACTICE),
            Fact(words="isolation", value="double-pole", source=COMMON_PRACTICE),
            Fact(
                words="supply voltage",
                value="230 V, 216.2 V to 253.0 V",
                source="Electricity Safety, Quality and Continuity Regulations 2002 (SI 2002/2665)",
            ),
        ),
        protection=2,
    )


CASE = "case"
"""The terminal of a metal box at which its earth lands."""


class WiringCentreSettings(Settings):
    """What is recorded of a wiring centre."""

    terminals: Annotated[
        tuple[TerminalLabel, ...] | None,
        Field(
            strict=False,
            description="The terminals in the order they stand in the box, by the number or letter found on them: "
            "1 to 12 letters, digits, + - and / each, the first a letter or digit.",
            examples=[["A", "B", "C", "D"], [1, 2, 3, 4]],
        ),
    ] = None
    count: Annotated[
        int | None,
        Field(ge=1, le=200, description="How many terminals there are, when they are numbered 1, 2, 3, ..."),
    ] = None
    conductors_per_terminal: Annotated[
        int | None,
        Field(ge=1, le=20, description="How many conductors one terminal may hold, where the box says so."),
    ] = None
    metal_box: Annotated[
        bool, Field(description="True for a metal box; it has a terminal `case` that needs an earth.")
    ] = False

    @model_validator(mode="after")
    def _one_way(self) -> Self:
        if (self.terminals is None) == (self.count is None):
            raise ValueError("say either `terminals` (their labels, in order) or `count`, one of the two")
        labels = self.labels
        twice = [label for index, label in enumerate(labels) if label in labels[:index]]
        if twice:
            raise ValueError(f"two terminals of the box have the label `{twice[0]}`")
        if self.metal_box and CASE in labels:
            raise ValueError(f"`{CASE}` is the metal box itself: a terminal cannot be called so as well")
        return self

    @property
    def labels(self) -> tuple[str, ...]:
        """The labels of the terminals in box order."""
        if self.terminals is not None:
            return self.terminals
        return tuple(str(number + 1) for number in range(self.count or 0))


_CASE = (Terminal(name=CASE, words="earth of the metal box", role=Role.EARTH, usual_core="GNYE"),)


def _wiring_centre(settings: WiringCentreSettings) -> DeviceParts:
    return DeviceParts(
        terminals=(
            *(
                Terminal(name=label, words=f"terminal {label}", role=Role.CONTACT, needed=False)
                for label in settings.labels
            ),
            *(_CASE if settings.metal_box else ()),
        ),
        protection=1 if settings.metal_box else 2,
    )


FUSED_SPUR = Kind(
    name="fused-spur",
    words="fused spur",
    duty=Duty.SUPPLY,
    about="Fused connection unit that feeds the boiler and its controls. A second one may feed an immersion heater.",
    settings=FusedSpurSettings,
    parts=_fused_spur,
)

WIRING_CENTRE = Kind(
    name="wiring-centre",
    words="wiring centre",
    duty=Duty.CENTRE,
    about="The box of terminals where the controls meet, with the numbers or letters found in it. "
    "A house may have several.",
    settings=WiringCentreSettings,
    parts=_wiring_centre,
    example={"terminals": ["A", "B", "C"]},
)
