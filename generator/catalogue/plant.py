"""The boiler and the pump: what makes heat and moves water.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Expr, Fed, Is
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


class BoilerSettings(Settings):
    """What is recorded of a boiler that is called by a switched live."""

    demand: Annotated[
        Literal["switched live"], Field(description="How it is called: by a switched live on `call`.")
    ] = "switched live"
    permanent_live: Annotated[
        bool, Field(description="True where it has a permanent live on `L` besides its switched live.")
    ] = True
    overrun: Annotated[
        bool,
        Field(
            description="True where it keeps the pump running after the call ends; needs `permanent_live`."
        ),
    ] = False
    overrun_s: Annotated[
        float, Field(gt=0, le=3600, description="How long the overrun may last, in seconds.")
    ] = 300
    pump_output: Annotated[
        bool, Field(description="True where the pump is wired to the boiler's own terminal `pump`.")
    ] = False
    pump_inside: Annotated[bool, Field(description="True where the pump is inside the boiler's case.")] = (
        False
    )
    watts: Annotated[
        float, Field(gt=0, le=500, description="Electrical power while firing, in watt, without the pump.")
    ] = 100.0
    standby_w: Annotated[
        float, Field(gt=0, le=50, description="Power at rest in watt, for a boiler with a permanent live.")
    ] = 5.0

    @model_validator(mode="after")
    def _fits(self) -> Self:
        if self.overrun and not self.permanent_live:
            raise ValueError("`overrun` needs `permanent_live`: without it nothing can run the pump on")
        if self.overrun and not (self.pump_output or self.pump_inside):
            raise ValueError(
                "`overrun` needs `pump_output` or `pump_inside`: the boiler must hold the pump itself"
            )
        return self


def _boiler(settings: BoilerSettings) -> DeviceParts:
    line = "L" if settings.permanent_live else "call"
    terminals = []
    loads = []
    if settings.permanent_live:
        terminals.append(
            Terminal(name="L", words="permanent live", role=Role.PERMANENT_LINE, usual_core="BN")
        )
        loads.append(
            Load(
                name="electronics",
                words="boiler electronics",
                a="L",
                b="N",
                watts=settings.standby_w,
                power_factor=1.0,
                kind=LoadKind.ELECTRONICS,
            )
        )
    loads.append(
        Load(
            name="demand",
            words="boiler demand input",
            a="call",
            b="N",
            watts=1.0,
            power_factor=1.0,
            kind=LoadKind.DEMAND,
        )
    )
    loads.append(
        Load(
            name="fan",
            words="fan and gas valve",
            a="fan-line",
            b="N",
            watts=settings.watts,
            power_factor=0.95,
            kind=LoadKind.ELECTRONICS,
        )
    )
    firing: Expr = Fed("demand")
    if settings.permanent_live:
        firing = All((Fed("demand"), Fed("electronics")))
    contacts = [Contact(name="burner", words="boiler's own control", a=line, b="fan-line", when=Is("firing"))]
    driven = [
        Driven(
            name="firing",
            words="boiler",
            on_words="called",
            off_words="off",
            when=firing,
            on_s=5.0,
            off_s=1.0,
        )
    ]
    terminals += [
        Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU"),
        Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE"),
        Terminal(name="call", words="switched live", role=Role.SWITCHED_LINE),
    ]
    inputs: tuple[Input, ...] = ()
    pump_when: Expr = Is("firing")
    if settings.overrun:
        inputs = (
            Input(
                name="overrun",
                words="pump overrun",
                on_words="running on",
                off_words="ended",
                kind=InputKind.OVERRUN,
                normal=False,
            ),
        )
        pump_when = Any((Is("firing"), All((Is("overrun"), Fed("electronics")))))
    if settings.pump_output or settings.pump_inside:
        driven.append(
            Driven(
                name="pump-held",
                words="pump output",
                on_words="on",
                off_words="off",
                when=pump_when,
                on_s=0.5,
                off_s=0.5,
            )
        )
        point = "pump" if settings.pump_output else "pump-line"
        if settings.pump_output:
            terminals.append(Terminal(name="pump", words="pump output", role=Role.OUTPUT))
        else:
            loads.append(
                Load(
                    name="pump",
                    words="pump inside the boiler",
                    a="pump-line",
                    b="N",
                    watts=60.0,
                    power_factor=0.9,
                    kind=LoadKind.PUMP,
                )
            )
        contacts.append(
            Contact(name="pump", words="boiler's pump contact", a=line, b=point, when=Is("pump-held"))
        )
    inner = ("fan-line", *(("pump-line",) if settings.pump_inside and not settings.pump_output else ()))
    return DeviceParts(
        terminals=tuple(terminals),
        inner=inner,
        inputs=inputs,
        contacts=tuple(contacts),
        loads=tuple(loads),
        driven=tuple(driven),
        facts=(
            Fact(words="power while firing", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="power of the demand input", value="1 W", source=FROM_MEMORY),
            Fact(
                words="overrun",
                value="needs a permanent live that no control switches",
                source=COMMON_PRACTICE,
            ),
        ),
        protection=1,
    )


class PumpSettings(Settings):
    """What is recorded of a pump."""

    watts: Annotated[float, Field(gt=0, le=400, description="Power in watt while running.")] = 60.0
    power_factor: Annotated[float, Field(gt=0, le=1, description="Power factor of the pump.")] = 0.9


def _pump(settings: PumpSettings) -> DeviceParts:
    return DeviceParts(
        terminals=(
            Terminal(name="L", words="line", role=Role.SWITCHED_LINE, usual_core="BN"),
            Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU"),
            Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE"),
        ),
        loads=(
            Load(
                name="motor",
                words="pump",
                a="L",
                b="N",
                watts=settings.watts,
                power_factor=settings.power_factor,
                kind=LoadKind.PUMP,
            ),
        ),
        driven=(
            Driven(
                name="running",
                words="pump",
                on_words="running",
                off_words="off",
                when=Fed("motor"),
                on_s=1.0,
                off_s=1.0,
            ),
        ),
        facts=(Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),),
        protection=1,
    )


BOILER = Kind(
    name="boiler",
    words="boiler",
    duty=Duty.BOILER,
    about="A boiler that is called by a switched live. With a permanent live it may hold the pump on after "
    "the call ends (overrun).",
    settings=BoilerSettings,
    parts=_boiler,
    example={"overrun": True, "pump_output": True},
)

PUMP = Kind(
    name="pump",
    words="pump",
    duty=Duty.PUMP,
    about="The circulating pump outside the boiler.",
    settings=PumpSettings,
    parts=_pump,
)
