"""The explicit list of every kind of device that a record may use."""

from generator.catalogue.hot_water import CYLINDER, IMMERSION_HEATER
from generator.catalogue.kind import Kind
from generator.catalogue.plant import BOILER, PUMP
from generator.catalogue.relays import RELAY
from generator.catalogue.supplies import FUSED_SPUR, WIRING_CENTRE
from generator.catalogue.thermostats import (
    CYLINDER_THERMOSTAT,
    PROGRAMMABLE_ROOM_THERMOSTAT,
    ROOM_THERMOSTAT,
)
from generator.catalogue.three_port import DIVERTER_VALVE, MID_POSITION_VALVE
from generator.catalogue.timers import PROGRAMMER, TIME_SWITCH
from generator.catalogue.valves import AUTOMATIC_BYPASS, MOTOR_OPEN_CLOSE_VALVE, TWO_PORT_VALVE

KINDS: tuple[Kind, ...] = (
    FUSED_SPUR,
    WIRING_CENTRE,
    PROGRAMMER,
    TIME_SWITCH,
    ROOM_THERMOSTAT,
    PROGRAMMABLE_ROOM_THERMOSTAT,
    CYLINDER_THERMOSTAT,
    TWO_PORT_VALVE,
    MOTOR_OPEN_CLOSE_VALVE,
    MID_POSITION_VALVE,
    DIVERTER_VALVE,
    BOILER,
    PUMP,
    AUTOMATIC_BYPASS,
    CYLINDER,
    IMMERSION_HEATER,
    RELAY,
)


def kind_named(name: str) -> Kind | None:
    """The kind of that name, None where there is none."""
    return next((kind for kind in KINDS if kind.name == name), None)
