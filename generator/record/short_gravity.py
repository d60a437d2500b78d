"""Arrangements of the short way in which hot water circulates by gravity and the pump serves heating alone.

Gives a draft; knows nothing of other arrangements.
"""

from generator.record.short_draft import SWITCH_CORES, Draft, needs_channel


def gravity(draft: Draft) -> None:
    """As found: the timer's hot water calls the boiler, the room thermostat runs the pump, nothing shuts the cylinder."""
    heat, water = _zones(draft)
    zones = draft.arrangement.zones
    clocked = [name for name in zones if name == water or needs_channel(zones[name])]
    draft.begin(
        clocked,
        # Without the link heating alone would run the pump through a cold boiler.
        **(
            {"hot_water_with_heating": True, "hot_water_channel": clocked.index(water) + 1}
            if heat in clocked
            else {}
        ),
    )
    draft.thermostat(heat, zones[heat])
    draft.cylinder()
    draft.boiler_device()
    draft.device("pump", "pump")
    for name, zone in zones.items():
        if name == water:
            draft.zone(name, zone, thermostat=False)
            draft.circuit(name, zone, gravity=True)
        else:
            draft.land(draft.called(name, zone), "pump.L", "BN")
            draft.zone(name, zone, pump="pump")
            draft.circuit(name, zone, pump="pump")
    draft.on(water, [("boiler.call", "BK")])
    draft.boiler_supply()
    draft.water |= {"pump": "none", "bypass": "none"}


def gravity_with_valve(draft: Draft) -> None:
    """Improved: a 28 mm valve shuts the cylinder, and its change-over end switch lets either call fire the boiler."""
    _, water = _zones(draft)
    zones = draft.arrangement.zones
    draft.begin([name for name, zone in zones.items() if needs_channel(zone)])
    for name, zone in zones.items():
        draft.thermostat(name, zone)
    valve = draft.zone_device(
        water, zones[water], "valve", "two-port-valve", settings={"size_mm": 28, "end_switch": "change-over"}
    )
    draft.mains(valve)
    draft.cylinder()
    draft.boiler_device()
    draft.device("pump", "pump")
    for name, zone in zones.items():
        call = draft.called(name, zone)
        if name == water:
            draft.land(call, f"{valve}.motor", "BN")
            draft.zone(name, zone, valve=valve)
            draft.circuit(name, zone, valve=valve, gravity=True)
        else:
            draft.land(call, f"{valve}.switch-c", "WH")
            draft.land(call, "pump.L", "BN")
            draft.zone(name, zone, pump="pump")
            draft.circuit(name, zone, pump="pump")
    # Orange is the common: it takes line from grey with the valve open, from white with it shut.
    draft.lines.append((f"{valve}.switch-a", SWITCH_CORES["switch-a"]))
    draft.boiler([(f"{valve}.switch-b", SWITCH_CORES["switch-b"])], pump=False)
    draft.water |= {"pump": "none", "bypass": "none"}


def _zones(draft: Draft) -> tuple[str, str]:
    """The heating zone and the hot water zone; the model allows one of each."""
    by_service = {zone.serves: name for name, zone in draft.arrangement.zones.items()}
    return by_service["heating"], by_service["hot water"]
