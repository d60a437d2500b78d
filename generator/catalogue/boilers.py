"""Boilers, however they are called: by a switched live, by a volt-free contact, or over a bus.

Knows the parts of this kind only.
"""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from generator.catalogue.demands import Demand, demand_parts, needs_electronics
from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Expr, Fed, Is, Not
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
from generator.catalogue.usual import EARTH, NEUTRAL


class BoilerSettings(Settings):
    """What is recorded of a boiler."""

    demand: Annotated[
        Demand,
        Field(
            description="How it is called: by a switched live on `call`; by a volt-free contact between `call-a` and "
            "`call-b`, which must never see mains; or by a room unit on the bus `bus-a`, `bus-b`."
        ),
    ] = "switched live"
    hot_water_demand: Annotated[
        Literal["none", "switched live", "volt-free"],
        Field(
            description="A second demand input for hot water: `hot-water-call`, or `hot-water-a` and `hot-water-b`."
        ),
    ] = "none"
    combination: Annotated[
        bool,
        Field(description="True where it heats water itself when a hot tap runs; there is no cylinder then."),
    ] = False
    combination_measure: Annotated[
        Literal[
            "none",
            "flue-gas heat recovery",
            "weather compensation",
            "load compensation",
            "smart thermostat",
            "not known",
        ],
        Field(
            description="What else saves energy beside a combination boiler; a smart thermostat has automation and "
            "optimisation."
        ),
    ] = "not known"
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
    frost_protection: Annotated[
        Literal["yes", "no", "not known"],
        Field(description="Whether it fires by itself when its own water is near freezing. Not solved."),
    ] = "not known"
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
        if not self.permanent_live and needs_electronics(self.demand, self.hot_water_demand):
            raise ValueError(
                "a demand without a switched live needs `permanent_live`: nothing else feeds the boiler"
            )
        if not self.permanent_live and self.combination:
            raise ValueError("`combination` needs `permanent_live`: it must be ready whenever a tap runs")
        return self


def _boiler(settings: BoilerSettings) -> DeviceParts:
    line = "L" if settings.permanent_live else "call"
    terminals: list[Terminal] = []
    loads: list[Load] = []
    if settings.permanent_live:
        terminals.append(
            Terminal(name="L", words="permanent live", role=Role.PERMANENT_LINE, usual_core="BN")
        )
        loads.append(_load("electronics", "boiler electronics", "L", settings.standby_w, 1.0))
    terminals += [NEUTRAL, EARTH]
    demand = demand_parts(settings.demand, "call", "demand", "boiler demand input")
    asks = [demand.called]
    terminals += demand.terminals
    loads += demand.loads
    senses = list(demand.senses)
    driven = list(demand.driven)
    if settings.hot_water_demand != "none":
        water = demand_parts(
            settings.hot_water_demand, "hot-water", "hot-water-demand", "boiler's hot water demand input"
        )
        asks.append(water.called)
        terminals += water.terminals
        loads += water.loads
        senses += water.senses
    loads.append(_load("fan", "fan and gas valve", "fan-line", settings.watts, 0.95))
    inputs: list[Input] = []
    called: Expr = Any(tuple(asks)) if len(asks) > 1 else asks[0]
    ready: tuple[Expr, ...] = (Fed("electronics"),) if settings.permanent_live else ()
    driven.append(
        Driven(
            name="firing",
            words="boiler",
            on_words="called",
            off_words="off",
            when=All((called, *ready)) if ready else called,
            on_s=5.0,
            off_s=1.0,
        )
    )
    burning: Expr = Is("firing")
    if settings.combination:
        inputs.append(
            Input(
                name="tap",
                words="hot tap",
                on_words="running",
                off_words="shut",
                kind=InputKind.SENSOR,
                normal=False,
            )
        )
        driven.append(
            Driven(
                name="heating-tap-water",
                words="boiler",
                on_words="heating water for a tap",
                off_words="not heating water",
                when=All((Is("tap"), *ready)),
                on_s=5.0,
                off_s=1.0,
            )
        )
        burning = Any((burning, Is("heating-tap-water")))
    contacts = [Contact(name="burner", words="boiler's own control", a=line, b="fan-line", when=burning)]
    inner = ["fan-line"]
    if settings.overrun:
        inputs.append(
            Input(
                name="overrun",
                words="pump overrun",
                on_words="running on",
                off_words="ended",
                kind=InputKind.OVERRUN,
                normal=False,
            )
        )
    if settings.pump_output or settings.pump_inside:
        driven.append(_pump_held(settings))
        point = "pump" if settings.pump_output else "pump-line"
        if settings.pump_output:
            terminals.append(Terminal(name="pump", words="pump output", role=Role.OUTPUT))
        else:
            inner.append("pump-line")
            loads.append(_load("pump", "pump inside the boiler", "pump-line", 60.0, 0.9, LoadKind.PUMP))
        contacts.append(
            Contact(name="pump", words="boiler's pump contact", a=line, b=point, when=Is("pump-held"))
        )
    return DeviceParts(
        terminals=tuple(terminals),
        inner=tuple(inner),
        inputs=tuple(inputs),
        contacts=tuple(contacts),
        loads=tuple(loads),
        driven=tuple(driven),
        senses=tuple(senses),
        buses=demand.buses,
        facts=(*_facts(settings), *demand.facts),
        protection=1,
    )


def _pump_held(settings: BoilerSettings) -> Driven:
    held: Expr = Is("firing")
    if settings.combination:
        # While a tap runs the pump serves the exchanger inside, and no zone.
        held = All((held, Not(Is("heating-tap-water"))))
    if settings.overrun:
        held = Any((held, All((Is("overrun"), Fed("electronics")))))
    return Driven(
        name="pump-held", words="pump output", on_words="on", off_words="off", when=held, on_s=0.5, off_s=0.5
    )


def _load(
    name: str, words: str, point: str, watts: float, factor: float, kind: LoadKind = LoadKind.ELECTRONICS
) -> Load:
    return Load(name=name, words=words, a=point, b="N", watts=watts, power_factor=factor, kind=kind)


def _facts(settings: BoilerSettings) -> tuple[Fact, ...]:
    facts = [
        Fact(words="power while firing", value=f"{settings.watts:g} W", source=FROM_MEMORY),
        Fact(words="power of a demand input", value="1 W", source=FROM_MEMORY),
        Fact(
            words="overrun", value="needs a permanent live that no control switches", source=COMMON_PRACTICE
        ),
        Fact(
            words="its own frost protection",
            value="fires it without any call while its water is near freezing; not solved",
            source=COMMON_PRACTICE,
        ),
    ]
    if settings.combination:
        facts.append(
            Fact(
                words="hot tap running",
                value="heating waits; the pump works for the tap alone",
                source=COMMON_PRACTICE,
            )
        )
    return tuple(facts)


BOILER = Kind(
    name="boiler",
    words="boiler",
    duty=Duty.BOILER,
    about="A boiler that is called by a switched live, a volt-free contact or a bus. With a permanent live it may hold "
    "the pump on after the call ends (overrun).",
    settings=BoilerSettings,
    parts=_boiler,
    example={"overrun": True, "pump_output": True},
)
