"""The explicit list of every kind of device that a record may use."""

from generator.catalogue.boilers import BOILER
from generator.catalogue.dual_thermostat import DUAL_THERMOSTAT
from generator.catalogue.heat_sources import (
    ELECTRIC_BOILER,
    HEAT_INTERFACE_UNIT,
    HEAT_PUMP,
)
from generator.catalogue.hot_water import CYLINDER, IMMERSION_HEATER
from generator.catalogue.kind import Kind
from generator.catalogue.other_heat import SOLAR_STATION, SOLID_FUEL_STOVE
from generator.catalogue.own_circuit import OWN_CIRCUIT
from generator.catalogue.plant import BUFFER, LOW_LOSS_HEADER, MANIFOLD, PUMP
from generator.catalogue.relays import RELAY
from generator.catalogue.safety import CONDENSATE_SWITCH, PREPAYMENT_SHUT_OFF, PRESSURE_SWITCH, SERVICE_TIMER
from generator.catalogue.sensors import FROST_THERMOSTAT, PIPE_THERMOSTAT
from generator.catalogue.supplies import FUSED_SPUR, WIRING_CENTRE
from generator.catalogue.thermostats import (
    CYLINDER_THERMOSTAT,
    PROGRAMMABLE_ROOM_THERMOSTAT,
    ROOM_THERMOSTAT,
)
from generator.catalogue.three_port import DIVERTER_VALVE, MID_POSITION_VALVE
from generator.catalogue.timers import PROGRAMMER, TIME_SWITCH
from generator.catalogue.underfloor import BLENDING_SET, THERMAL_ACTUATOR
from generator.catalogue.valves import AUTOMATIC_BYPASS, MOTOR_OPEN_CLOSE_VALVE, TWO_PORT_VALVE
from generator.catalogue.wireless import BUS_THERMOSTAT, WIRELESS_RECEIVER
from generator.catalogue.zone_controller import ZONE_CONTROLLER

KINDS: tuple[Kind, ...] = (
    FUSED_SPUR,
    OWN_CIRCUIT,
    WIRING_CENTRE,
    PROGRAMMER,
    TIME_SWITCH,
    ROOM_THERMOSTAT,
    PROGRAMMABLE_ROOM_THERMOSTAT,
    WIRELESS_RECEIVER,
    BUS_THERMOSTAT,
    CYLINDER_THERMOSTAT,
    DUAL_THERMOSTAT,
    FROST_THERMOSTAT,
    PIPE_THERMOSTAT,
    TWO_PORT_VALVE,
    MOTOR_OPEN_CLOSE_VALVE,
    MID_POSITION_VALVE,
    DIVERTER_VALVE,
    ZONE_CONTROLLER,
    THERMAL_ACTUATOR,
    BOILER,
    ELECTRIC_BOILER,
    HEAT_PUMP,
    HEAT_INTERFACE_UNIT,
    SOLID_FUEL_STOVE,
    PUMP,
    BLENDING_SET,
    AUTOMATIC_BYPASS,
    CYLINDER,
    IMMERSION_HEATER,
    SOLAR_STATION,
    RELAY,
    PRESSURE_SWITCH,
    CONDENSATE_SWITCH,
    SERVICE_TIMER,
    PREPAYMENT_SHUT_OFF,
    LOW_LOSS_HEADER,
    BUFFER,
    MANIFOLD,
)


def kind_named(name: str) -> Kind | None:
    """The kind of that name, None where there is none."""
    return next((kind for kind in KINDS if kind.name == name), None)
