"""Arrangements of the short way with underfloor heating: alone, and mixed with radiators; hot water by its own valve.

Gives a draft; knows nothing of other arrangements.
"""

from generator.record.short_draft import Draft, needs_channel
from generator.record.short_model import ShortZone
from generator.record.short_two_port import with_bypass, zone_valve


def underfloor(draft: Draft) -> None:
    """A zone controller joins thermostats and actuators, runs the blending set and calls the boiler; valves besides."""
    given = draft.arrangement
    draft.begin([name for name, zone in given.zones.items() if needs_channel(zone)])
    floors = [name for name, zone in given.zones.items() if given.floor(zone)]
    # With nothing else to call the boiler, the controller's own volt-free contact goes straight to it.
    straight = given.call == "volt-free" and len(floors) == len(given.zones)
    for name, zone in given.zones.items():
        draft.thermostat(name, zone)
        if name not in floors:
            draft.zone_device(name, zone, "valve", "two-port-valve")
            continue
        for loop in range(1, zone.loops + 1):
            draft.zone_device(name, zone, _actuator(loop), "thermal-actuator")
    draft.device(
        "controller",
        "zone-controller",
        name="Underfloor controller",
        settings={"zones": len(floors), "boiler_enable": "volt-free" if straight else "switched live"},
    )
    draft.device("blending-set", "blending-set")
    draft.cylinder()
    draft.boiler_device(relay=not straight, **({"pump_output": True} if straight else {}))
    draft.device("pump", "pump")
    with_bypass(draft)
    valves = []
    for name, zone in given.zones.items():
        if name in floors:
            _floor(draft, name, zone, floors.index(name) + 1)
        else:
            valves.append(zone_valve(draft, name, zone))
    run = draft.terminal()
    draft.land(run, "controller.pump", "WH")
    draft.land(run, "blending-set.L", "BN")
    draft.mains("controller", earth=False)
    draft.mains("blending-set")
    draft.lines.append(("controller.L", "BN"))
    if not straight:
        draft.boiler([*draft.end_switches(valves), ("controller.boiler", "GY")])
        return
    draft.wire("controller.boiler-a", "boiler.call-a", "BK")
    draft.wire("controller.boiler-b", "boiler.call-b", "GY")
    draft.run_pump("")
    draft.boiler_supply()


def _actuator(loop: int) -> str:
    return "actuator" if loop == 1 else f"actuator-{loop}"


def _floor(draft: Draft, name: str, zone: ShortZone, number: int) -> None:
    """One zone of the controller: thermostat in, actuators out, past the wiring centre."""
    thermostat = f"{name}-thermostat"
    if not draft.on(name, [(f"{thermostat}.common", "BN")]):
        draft.wire(f"{thermostat}.common", f"controller.live-{number}", "BN")
    draft.wire(f"{thermostat}.call", f"controller.call-{number}", "BK")
    for loop in range(1, zone.loops + 1):
        key = f"{name}-{_actuator(loop)}"
        draft.wire(f"{key}.L", f"controller.actuator-{number}", "BN")
        draft.wire(f"{key}.N", f"controller.actuator-N-{number}", "BU")
    draft.zone(name, zone, valve=f"{name}-actuator")
    draft.circuit(name, zone, valve=f"{name}-actuator", feeds="underfloor", blending=True)
