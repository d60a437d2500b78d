"""What each terminal of a device is for, as one word or two: terminals of one sort are meant to be joined.

Knows circuits and what devices are made of; how anything is wired is not looked at.
"""

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Any, Expr, Is, Not
from generator.catalogue.parts import LoadKind, Role
from generator.circuit.model import Circuit


def sorts(circuit: Circuit) -> dict[str, str]:
    """The sort of each terminal of which it is known; wiring centres have none."""
    sorts_: dict[str, str] = {}
    for place in circuit.terminals:
        duty, role = place.device.duty, place.terminal.role
        if duty is Duty.CENTRE:
            continue
        if role is Role.NEUTRAL:
            sorts_[place.ref] = "neutral"
        elif role is Role.EARTH:
            sorts_[place.ref] = "earth"
        elif role is Role.PERMANENT_LINE or (duty is Duty.SUPPLY and role is Role.OUTPUT):
            sorts_[place.ref] = "line"
    _of_zones(circuit, sorts_)
    _of_mid_position_valves(circuit, sorts_)
    outputs = [
        place.ref
        for place in circuit.terminals
        if place.ref.endswith(".pump") and place.device.duty is Duty.BOILER
    ]
    sorts_ |= dict.fromkeys(outputs, "pump")
    for load in circuit.loads:
        if load.kind is LoadKind.DEMAND:
            sorts_.setdefault(load.a, "boiler")
        elif load.kind is LoadKind.PUMP:
            sorts_.setdefault(load.a, "pump" if outputs else "boiler")
    for valve in circuit.with_duty(Duty.VALVE):
        for item in valve.parts.contacts:
            if item.name == f"{valve.name}.end-switch":
                sorts_.setdefault(item.a, "line")
                sorts_.setdefault(item.b, "boiler")
    return sorts_


def _of_zones(circuit: Circuit, sorts_: dict[str, str]) -> None:
    """The chain of each zone: channel, thermostat, valve or pump."""
    for zone in circuit.zones:
        calls = f"{zone.name} calls"
        for item in circuit.contacts:
            if zone.channel and _by(item.when, zone.channel):
                sorts_.setdefault(item.b, f"{zone.channel} on" if zone.thermostat else calls)
        if zone.thermostat:
            for item in circuit.device(zone.thermostat).parts.contacts:
                if _by(item.when, f"{zone.thermostat}.calling"):
                    sorts_.setdefault(item.a, f"{zone.channel} on" if zone.channel else "line")
                    sorts_.setdefault(item.b, calls)
        driver = zone.valve or zone.pump
        for load in circuit.device(driver).parts.loads if driver else ():
            if load.kind in (LoadKind.MOTOR, LoadKind.PUMP):
                sorts_.setdefault(load.a, calls)


def _of_mid_position_valves(circuit: Circuit, sorts_: dict[str, str]) -> None:
    """A valve that is told by a line when hot water is off: it calls the boiler for heating itself."""
    outside = {place.ref for place in circuit.terminals}
    for zone in circuit.zones:
        off, heat, out = (f"{zone.valve}.{part}" for part in ("water-off", "heat", "out"))
        if not zone.valve or off not in outside:
            continue
        if zone.serves != "hot water":
            sorts_[heat] = f"{zone.name} calls"
            continue
        sorts_ |= {off: "water off", out: "boiler"}
        inputs = (zone.channel, f"{zone.thermostat}.calling")
        for item in circuit.contacts:
            if any(item.when == Not(Is(name)) for name in inputs):
                sorts_[item.b] = "water off"
            elif zone.thermostat and _by(item.when, inputs[1]):
                sorts_[item.b] = "boiler"


def _by(when: Expr, name: str) -> bool:
    """Whether an input, by itself, makes a contact."""
    match when:
        case Is(this):
            return this == name
        case Any(parts):
            return any(_by(part, name) for part in parts)
        case _:
            return False
