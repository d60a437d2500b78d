"""When a tenant has to stop, what never to do and whom to ring, by the nation, the fuel and what is fitted.

Knows nothing of steps. Where the record cannot be read everything is said that could be true of any home.
"""

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Heat
from generator.circuit.model import Circuit
from generator.record.model import Record
from generator.views.tenant_heat import heats
from generator.views.tenant_model import Number
from generator.views.tenant_wording import Phrase, Wording

GREAT_BRITAIN = "0800 111 999"
NORTHERN_IRELAND = "0800 002 001"
"""The gas emergency numbers, published by the gas networks of Great Britain and of Northern Ireland. They are for gas from the
mains: a leak of LPG is for its supplier, whose number is on the tank or bottle."""
LIFE_IN_DANGER = "999"

_GASES = ("gas", "lpg")
_UNBURNT = ("electricity", "heat network")
_NORTHERN_IRELAND = "northern ireland"


def stop_when(record: Record | None, circuit: Circuit | None, wording: Wording) -> tuple[Phrase, ...]:
    """When to stop and ring, the most urgent first."""
    keys = []
    if has_gas(record):
        keys.append("stop.gas")
    if _burns(record, circuit):
        # From memory: the gas networks' number is for carbon monoxide too, where their gas is burnt.
        mains_gas = record is not None and record.property.fuel == "gas"
        keys += [f"stop.carbon-monoxide{'-gas' if mains_gas else ''}", "stop.ill"]
    keys += [_water(circuit), "stop.burning"]
    if _may_be_unvented(record):
        keys.append("stop.discharge")
    return tuple(wording.say(key) for key in keys)


def stop_in_short(record: Record | None, wording: Wording) -> tuple[Phrase, ...]:
    """The same in a line or two, for the head of each sheet."""
    short = wording.say("stop.short" if has_gas(record) else "stop.short-no-gas")
    return (short, wording.say("stop.short-discharge")) if _may_be_unvented(record) else (short,)


def never(record: Record | None, circuit: Circuit | None, wording: Wording) -> tuple[Phrase, ...]:
    """What not to do."""
    keys = ["never.cover", "never.wire", "never.reset" if _may_be_boiler(circuit) else "never.reset-any"]
    if _burns(record, circuit):
        keys.append("never.boiler")
    keys += ["never.climb", "never.force"]
    if record is None or _has_cylinder(record):
        keys.append("caution.hot-water")
    return tuple(wording.say(key) for key in keys)


def numbers(record: Record | None, wording: Wording) -> tuple[Number, ...]:
    """Whom to ring besides the firm."""
    danger = Number(name=wording.say("numbers.danger"), phone=LIFE_IN_DANGER)
    on_tank = wording.say("numbers.lpg-number")
    if record is None:
        return (
            Number(name=wording.say("numbers.gas-great-britain"), phone=GREAT_BRITAIN),
            Number(name=wording.say("numbers.gas-northern-ireland"), phone=NORTHERN_IRELAND),
            Number(name=wording.say("numbers.lpg"), phone="", words=(wording.say("numbers.lpg-too"),)),
            danger,
        )
    if record.property.fuel == "lpg":
        return Number(name=wording.say("numbers.lpg"), phone="", words=(on_tank,)), danger
    if record.property.fuel == "gas":
        northern = record.property.nation == _NORTHERN_IRELAND
        phone = NORTHERN_IRELAND if northern else GREAT_BRITAIN
        return Number(name=wording.say("numbers.gas"), phone=phone), danger
    return (danger,)


def repair_times(record: Record | None, wording: Wording) -> tuple[Phrase, ...]:
    """By when a council has to mend lost heating or hot water; empty outside England.

    Secure Tenants of Local Housing Authorities (Right to Repair) Regulations 1994, SI 1994/133, Schedule: one working day
    between 31 October and 1 May, three between 30 April and 1 November, each without the days named.
    """
    if record is None or record.property.nation != "england":
        return ()
    return tuple(wording.say(f"repair.{key}") for key in ("winter", "summer", "small", "law"))


def has_gas(record: Record | None) -> bool:
    """Whether gas of any sort is burnt there, as far as anybody knows."""
    return record is None or record.property.fuel in _GASES


def _burns(record: Record | None, circuit: Circuit | None) -> bool:
    """Whether anything is burnt there, so that carbon monoxide can come from it: a stove as well as the boiler."""
    if record is None or circuit is None or record.property.fuel not in _UNBURNT:
        return True
    return bool(circuit.with_duty(Duty.UNCONTROLLED_HEAT))


def _water(circuit: Circuit | None) -> str:
    """The sentence about water on what carries mains; a heat pump outdoors is wet by itself and is not named."""
    if _may_be_boiler(circuit):
        return "stop.water"
    return "stop.water-unit" if Heat.NETWORK in heats(circuit) else "stop.water-any"


def _may_be_boiler(circuit: Circuit | None) -> bool:
    """Whether there is a boiler, or may be one for all that anybody knows."""
    known = heats(circuit)
    return not known or Heat.BOILER in known


def _has_cylinder(record: Record) -> bool:
    return any(device.kind == "cylinder" for device in record.devices.values())


def _may_be_unvented(record: Record | None) -> bool:
    return record is None or any(
        device.kind == "cylinder" and (device.settings or {}).get("system") != "vented"
        for device in record.devices.values()
    )
