"""Arrangements of the short way with a two-port valve for each zone: the two-port system, the combination boiler.

Gives a draft; knows nothing of other arrangements.
"""

from generator.record.short_draft import Draft, needs_channel
from generator.record.short_model import ShortZone


def two_port(draft: Draft) -> None:
    """One two-port valve a zone; any end switch calls the boiler."""
    given = draft.arrangement
    draft.begin([name for name, zone in given.zones.items() if needs_channel(zone)])
    for name, zone in given.zones.items():
        _controls(draft, name, zone)
    draft.cylinder()
    draft.boiler_device()
    draft.device("pump", "pump")
    with_bypass(draft)
    outputs = draft.end_switches(valves_of(draft))
    draft.boiler(outputs)


def combination(draft: Draft) -> None:
    """A boiler with its own pump and hot water, and a two-port valve for each heating zone outside it."""
    given = draft.arrangement
    draft.begin([name for name, zone in given.zones.items() if needs_channel(zone)])
    for name, zone in given.zones.items():
        _controls(draft, name, zone)
    draft.boiler_device(
        combination=True,
        pump_inside=True,
        pump_output=False,
    )
    draft.water |= {"pump": "in the boiler", "bypass": "in the boiler"}
    draft.boiler(draft.end_switches(valves_of(draft)), pump=False)


def zone_valve(draft: Draft, name: str, zone: ShortZone) -> str:
    """Wires the call of a zone to its two-port valve; gives the valve. The devices are there already."""
    valve = f"{name}-valve"
    draft.land(draft.called(name, zone), f"{valve}.motor", "BN")
    draft.mains(valve)
    draft.zone(name, zone, valve=valve)
    draft.circuit(name, zone, valve=valve)
    return valve


def with_bypass(draft: Draft) -> None:
    """The automatic bypass, where there is one, and the pump on the flow."""
    if draft.arrangement.bypass:
        draft.device("bypass", "automatic-bypass")
    draft.water |= {"pump": "on the flow", "bypass": "bypass" if draft.arrangement.bypass else "none"}


def _controls(draft: Draft, name: str, zone: ShortZone) -> None:
    draft.thermostat(name, zone)
    draft.zone_device(name, zone, "valve", "two-port-valve")


def valves_of(draft: Draft) -> list[str]:
    """Wires every zone to its two-port valve; gives the valves in order."""
    return [zone_valve(draft, name, zone) for name, zone in draft.arrangement.zones.items()]
