"""Arrangements of the short way in which zones have pumps: the low-loss header, and the thermal store.

Gives a draft; knows nothing of other arrangements.
"""

from generator.record.short_draft import Draft, needs_channel


def header(draft: Draft) -> None:
    """A pump and a relay for each zone: the call runs the pump, the relay's contact calls the boiler."""
    given = draft.arrangement
    draft.begin([name for name, zone in given.zones.items() if needs_channel(zone)])
    # So that no zone's call runs another zone's pump, each has a relay; an unvented cylinder has a valve besides.
    shut = next((n for n, z in given.zones.items() if z.serves == "hot water"), "")
    shut = shut if given.cylinder == "unvented" else ""
    for name, zone in given.zones.items():
        draft.thermostat(name, zone)
        if name == shut:
            draft.zone_device(name, zone, "valve", "two-port-valve")
            draft.mains(f"{name}-valve")
        draft.zone_device(name, zone, "pump", "pump")
        draft.zone_device(name, zone, "relay", "relay")
    draft.device("header", "low-loss-header")
    draft.cylinder()
    draft.boiler_device()
    draft.device("pump", "pump", name="Boiler pump")
    relays = [f"{name}-relay" for name in given.zones]
    for name, zone in given.zones.items():
        call = draft.called(name, zone)
        means = {"pump": f"{name}-pump"}
        if name == shut:
            means = {"valve": f"{name}-valve", **means}
            draft.land(call, f"{name}-valve.motor", "BN")
            call = draft.terminal()
            draft.land(call, *draft.end_switches([f"{name}-valve"])[0])
        draft.land(call, f"{name}-pump.L", "BN")
        draft.land(call, f"{name}-relay.A1", "WH")
        draft.mains(f"{name}-pump")
        draft.zone(name, zone, thermostat=True, **means)
        draft.circuit(name, zone, check_valve=True, **means)
    draft.lines += [(f"{relay}.11", "BN") for relay in relays]
    draft.boiler([(f"{relay}.14", "OG") for relay in relays])
    draft.water |= {"pump": "on the flow", "bypass": "none", "header": "low-loss"}
    draft.coils += relays


def thermal_store(draft: Draft) -> None:
    """The store's thermostat calls boiler and pump; each heating zone's call runs a pump that draws from the store."""
    given = draft.arrangement
    draft.begin([name for name, zone in given.zones.items() if needs_channel(zone)])
    for name, zone in given.zones.items():
        draft.thermostat(name, zone)
        if zone.serves == "heating":
            draft.zone_device(name, zone, "pump", "pump")
    draft.device("store", "cylinder", name="Thermal store", settings={"system": "thermal store"})
    draft.boiler_device()
    draft.device("pump", "pump", name="Boiler pump")
    for name, zone in given.zones.items():
        call = draft.called(name, zone)
        if zone.serves == "heating":
            pump = f"{name}-pump"
            draft.land(call, f"{pump}.L", "BN")
            draft.mains(pump)
            draft.zone(name, zone, pump=pump)
            draft.circuit(name, zone, pump=pump, source="store")
        else:
            draft.land(call, "boiler.call", "BK")
            draft.run_pump(call)
            draft.zone(name, zone, pump="pump")
            draft.circuit(name, zone, pump="pump", feeds="thermal store")
    draft.boiler_supply()
    draft.water |= {"pump": "none", "bypass": "none", "sources": {"store": {"of": "thermal store"}}}
