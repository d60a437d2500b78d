"""Arrangements of the short way with one three-port valve for heating and hot water: mid-position and diverter.

Gives a draft; knows nothing of other arrangements.
"""

from typing import Any

from generator.record.short_draft import Draft, needs_channel
from generator.record.short_model import ShortZone
from generator.record.short_two_port import with_bypass


def mid_position(draft: Draft) -> None:
    """White asks for heating, grey says that hot water is off, orange and the cylinder thermostat call the boiler."""
    heat, water = _zones(draft)
    draft.begin(_clocked(draft), off_terminals=[_number(draft, water)])
    valve = _devices(draft, "mid-position-valve", "three-port-mid-position-valve", water)
    hot_call = ""
    for name, zone in draft.arrangement.zones.items():
        if name == heat:
            draft.land(draft.called(name, zone), f"{valve}.heat", "WH")
            draft.zone(name, zone, valve=valve)
            draft.circuit(name, zone, valve=valve)
        else:
            hot_call = draft.called(name, zone)
            _water_zone(draft, name, zone, valve)
    off = draft.terminal()
    timer, number = draft.channel[water]
    draft.land(off, f"{timer}.off-{number}", "WH")
    draft.land(off, f"{water}-thermostat.satisfied", "GY")
    draft.land(off, f"{valve}.water-off", "GY")
    _boiler(draft, water, hot_call, (f"{valve}.out", "OG"))


def diverter(draft: Draft) -> None:
    """Hot water first: the motor has line only while hot water is off or satisfied; the end switch calls the boiler."""
    heat, water = _zones(draft)
    draft.begin(_clocked(draft), off_terminals=[_number(draft, water)], volt_free=True)
    valve = _devices(
        draft, "diverter-valve", "three-port-diverter-valve", water, settings={"end_switch": True}
    )
    timer, number = draft.channel[water]
    hot_call = ""
    for name, zone in draft.arrangement.zones.items():
        if name == water:
            hot_call = draft.called(name, zone)
            _water_zone(draft, name, zone, valve)
        else:
            draft.on(name, [(f"{name}-thermostat.common", "BN")])
            call = draft.terminal()
            draft.land(call, f"{name}-thermostat.call", "BK")
            draft.land(call, f"{valve}.motor", "BN")
            draft.zone(name, zone, valve=valve)
            draft.circuit(name, zone, valve=valve)
    off = draft.terminal()
    draft.land(off, f"{timer}.off-{number}", "WH")
    draft.land(off, f"{water}-thermostat.satisfied", "GY")
    if heat in draft.channel:
        draft.land(off, f"{timer}.common-{draft.channel[heat][1]}", "VT")
    else:
        draft.land(off, f"{heat}-thermostat.common", "BN")
    draft.lines.append((f"{timer}.common-{number}", "OG"))
    _boiler(draft, water, hot_call, draft.end_switches([valve])[0])


def _zones(draft: Draft) -> tuple[str, str]:
    """The heating zone and the hot water zone; the model allows one of each."""
    by_service = {zone.serves: name for name, zone in draft.arrangement.zones.items()}
    return by_service["heating"], by_service["hot water"]


def _clocked(draft: Draft) -> list[str]:
    return [name for name, zone in draft.arrangement.zones.items() if needs_channel(zone)]


def _number(draft: Draft, zone: str) -> int:
    """The channel that a zone will have."""
    return _clocked(draft).index(zone) + 1


def _devices(
    draft: Draft,
    key: str,
    kind: str,
    water: str,
    settings: dict[str, bool] | None = None,
) -> str:
    """Thermostats, the valve, the cylinder, boiler, pump and bypass; gives the valve."""
    zones = draft.arrangement.zones
    for name, zone in zones.items():
        draft.thermostat(name, zone)
    fields: dict[str, Any] = {"settings": settings} if settings else {}
    draft.device(key, kind, **fields)
    draft.mains(key)
    if draft.arrangement.cylinder == "unvented":
        # It rests open to the cylinder, so another valve must shut when the supply is lost.
        draft.zone_device(water, zones[water], "valve", "two-port-valve")
        draft.mains(f"{water}-valve")
    draft.cylinder()
    draft.boiler_device()
    draft.device("pump", "pump")
    with_bypass(draft)
    return key


def _water_zone(draft: Draft, name: str, zone: ShortZone, valve: str) -> None:
    own = f"{name}-valve"
    draft.zone(name, zone, valve=valve)
    draft.circuit(name, zone, valve=own if own in draft.devices else valve)


def _boiler(draft: Draft, water: str, hot_call: str, caller: tuple[str, str]) -> None:
    """The boiler on the hot water call itself, or on the end switch of the two-port valve in series."""
    own = f"{water}-valve"
    if own in draft.devices:
        draft.land(hot_call, f"{own}.motor", "BN")
        draft.lines.append((f"{own}.switch-a", "GY"))
        draft.boiler([caller, (f"{own}.switch-b", "OG")])
        return
    draft.land(hot_call, *caller)
    draft.land(hot_call, "boiler.call", "BK")
    draft.run_pump(hot_call)
    draft.boiler_supply()
