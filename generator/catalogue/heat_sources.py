"""Heat that is not a gas or oil boiler: electric boilers, heat pumps, heat interface units.

Knows the parts of these kinds only.
"""

from typing import Annotated, Literal

from pydantic import Field

from generator.catalogue.demands import demand_parts
from generator.catalogue.kind import Duty, Kind, Settings
from generator.catalogue.logic import All, Any, Expr, Fed, Is
from generator.catalogue.parts import (
    COMMON_PRACTICE,
    FROM_MEMORY,
    Contact,
    DeviceParts,
    Driven,
    Fact,
    Heat,
    Input,
    InputKind,
    Load,
    LoadKind,
    Role,
    Terminal,
)
from generator.catalogue.usual import EARTH, LINE, NEUTRAL

_Calls = Annotated[
    Literal["switched live", "volt-free"],
    Field(description="How it is called: `call`, or a volt-free contact between `call-a` and `call-b`."),
]


def _load(name: str, words: str, a: str, watts: float, factor: float, kind: LoadKind) -> Load:
    return Load(name=name, words=words, a=a, b="N", watts=watts, power_factor=factor, kind=kind)


class ElectricBoilerSettings(Settings):
    """What is recorded of an electric boiler."""

    demand: _Calls = "switched live"
    watts: Annotated[float, Field(gt=0, le=24000, description="Power of its elements in watt.")] = 6000.0
    pump_output: Annotated[
        bool, Field(description="True where the pump is wired to its own terminal `pump`.")
    ] = False


def _electric_boiler(settings: ElectricBoilerSettings) -> DeviceParts:
    demand = demand_parts(settings.demand, "call", "demand", "demand input")
    contacts = [Contact(name="elements", words="contactor", a="L", b="elements", when=Is("firing"))]
    terminals = [LINE, NEUTRAL, EARTH, *demand.terminals]
    if settings.pump_output:
        terminals.append(Terminal(name="pump", words="pump output", role=Role.OUTPUT))
        contacts.append(Contact(name="pump", words="pump contact", a="L", b="pump", when=Is("firing")))
    return DeviceParts(
        terminals=tuple(terminals),
        inner=("elements",),
        contacts=tuple(contacts),
        loads=(
            _load("electronics", "boiler electronics", "L", 5.0, 1.0, LoadKind.ELECTRONICS),
            *demand.loads,
            _load("elements", "heating elements", "elements", settings.watts, 1.0, LoadKind.HEATER),
        ),
        driven=(
            Driven(
                name="firing",
                words="electric boiler",
                on_words="called",
                off_words="off",
                when=All((demand.called, Fed("electronics"))),
                on_s=2.0,
                off_s=0.5,
            ),
        ),
        senses=demand.senses,
        facts=(
            Fact(words="power", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(
                words="supply", value="a circuit of its own, perhaps on another phase", source=COMMON_PRACTICE
            ),
            *demand.facts,
        ),
        protection=1,
    )


class HeatPumpSettings(Settings):
    """What is recorded of a heat pump."""

    demand: _Calls = "volt-free"
    hot_water_demand: Annotated[
        Literal["none", "switched live", "volt-free"],
        Field(
            description="A second input for hot water: `hot-water-call`, or `hot-water-a` and `hot-water-b`."
        ),
    ] = "none"
    watts: Annotated[float, Field(gt=0, le=12000, description="Electrical power while running, in watt.")] = (
        2500.0
    )
    pasteurises: Annotated[
        bool, Field(description="True where a cycle that heats the cylinder to 60 C or more is recorded.")
    ] = False


def _heat_pump(settings: HeatPumpSettings) -> DeviceParts:
    demands = [demand_parts(settings.demand, "call", "demand", "demand input")]
    if settings.hot_water_demand != "none":
        demands.append(
            demand_parts(settings.hot_water_demand, "hot-water", "hot-water-demand", "hot water demand input")
        )
    called: Expr = Any(tuple(each.called for each in demands)) if len(demands) > 1 else demands[0].called
    return DeviceParts(
        terminals=(LINE, NEUTRAL, EARTH, *(item for each in demands for item in each.terminals)),
        inner=("compressor",),
        contacts=(
            Contact(name="compressor", words="its own control", a="L", b="compressor", when=Is("firing")),
        ),
        loads=(
            _load("electronics", "electronics", "L", 10.0, 1.0, LoadKind.ELECTRONICS),
            *(item for each in demands for item in each.loads),
            _load(
                "compressor", "compressor and fan", "compressor", settings.watts, 0.95, LoadKind.ELECTRONICS
            ),
        ),
        driven=(
            Driven(
                name="firing",
                words="heat pump",
                on_words="called",
                off_words="off",
                when=All((called, Fed("electronics"))),
                on_s=60.0,
                off_s=10.0,
            ),
        ),
        senses=tuple(item for each in demands for item in each.senses),
        facts=(
            Fact(words="power while running", value=f"{settings.watts:g} W", source=FROM_MEMORY),
            Fact(words="from call to running", value="a minute or more", source=FROM_MEMORY),
            *demands[0].facts,
        ),
        protection=1,
        heat=Heat.HEAT_PUMP,
    )


class HeatInterfaceUnitSettings(Settings):
    """What is recorded of a heat interface unit."""

    demand: _Calls = "switched live"
    tap_water: Annotated[
        bool, Field(description="True where it heats water for the taps too, without a cylinder.")
    ] = True
    tap_control: Annotated[
        Literal["by flow", "electronic"],
        Field(
            description="What lets in the heat for a tap. by flow: the water itself, with no supply as well. electronic: "
            "the unit's electronics, so that without supply the taps run cold."
        ),
    ] = "by flow"
    pump_inside: Annotated[
        bool, Field(description="True where it has a pump for the flat's own heating circuit.")
    ] = False


def _tap_facts(settings: HeatInterfaceUnitSettings) -> tuple[Fact, ...]:
    """What lets in the heat for a tap, and how soon the water is hot."""
    flow = settings.tap_control == "by flow"
    value = "opened by the flow of water itself" if flow else "opened by the unit's electronics"
    return (
        Fact(words="hot tap", value=value, source=COMMON_PRACTICE),
        Fact(words="from tap to hot water", value="5 s", source=FROM_MEMORY),
    )


def _interface_unit(settings: HeatInterfaceUnitSettings) -> DeviceParts:
    demand = demand_parts(settings.demand, "call", "demand", "demand input")
    contacts = [Contact(name="valve", words="its own control", a="L", b="valve", when=Is("firing"))]
    loads = [
        _load("electronics", "electronics", "L", 5.0, 1.0, LoadKind.ELECTRONICS),
        *demand.loads,
        _load("valve", "its own valve", "valve", 5.0, 0.9, LoadKind.ELECTRONICS),
    ]
    inner = ["valve"]
    if settings.pump_inside:
        inner.append("pump-line")
        contacts.append(
            Contact(name="pump", words="its pump contact", a="L", b="pump-line", when=Is("firing"))
        )
        loads.append(_load("pump", "pump inside the unit", "pump-line", 45.0, 0.9, LoadKind.PUMP))
    tap = Input(
        name="tap", words="hot tap", on_words="running", off_words="shut", kind=InputKind.SENSOR, normal=False
    )
    by_tap: Expr = Is("tap")
    if settings.tap_control == "electronic":
        by_tap = All((by_tap, Fed("electronics")))
    at_tap = Driven(
        name="heating-tap-water",
        words="heat exchanger for taps",
        on_words="heating water for a tap",
        off_words="idle",
        when=by_tap,
        on_s=5.0,
        off_s=5.0,
    )
    return DeviceParts(
        terminals=(LINE, NEUTRAL, EARTH, *demand.terminals),
        inner=tuple(inner),
        inputs=(tap,) if settings.tap_water else (),
        contacts=tuple(contacts),
        loads=tuple(loads),
        driven=(
            Driven(
                name="firing",
                words="heat interface unit",
                on_words="letting heat in",
                off_words="shut",
                when=All((demand.called, Fed("electronics"))),
                on_s=30.0,
                off_s=30.0,
            ),
            *((at_tap,) if settings.tap_water else ()),
        ),
        senses=demand.senses,
        facts=(
            Fact(
                words="heat",
                value="from the building's main, through a heat exchanger",
                source=COMMON_PRACTICE,
            ),
            *(_tap_facts(settings) if settings.tap_water else ()),
            Fact(words="power", value="10 W", source=FROM_MEMORY),
            *demand.facts,
        ),
        protection=1,
        heat=Heat.NETWORK,
    )


ELECTRIC_BOILER = Kind(
    name="electric-boiler",
    words="electric boiler",
    duty=Duty.BOILER,
    about="A boiler with electric elements, on a circuit of its own: give it an `own-circuit`.",
    settings=ElectricBoilerSettings,
    parts=_electric_boiler,
    example={"pump_output": True},
)

HEAT_PUMP = Kind(
    name="heat-pump",
    words="heat pump",
    duty=Duty.BOILER,
    about="A heat pump, called by a volt-free contact as a rule, on a circuit of its own.",
    settings=HeatPumpSettings,
    parts=_heat_pump,
    example={"hot_water_demand": "volt-free"},
)

HEAT_INTERFACE_UNIT = Kind(
    name="heat-interface-unit",
    words="heat interface unit",
    duty=Duty.BOILER,
    about="The unit in a flat that lets in heat from the building's main. There is no flame in it.",
    settings=HeatInterfaceUnitSettings,
    parts=_interface_unit,
    example={"pump_inside": True},
)
