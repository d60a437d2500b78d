"""Invented call maps for the tests."""

from generator.drawings.call_map_model import CallEdge, CallMap, CallNode
from tests.unit.drawings.houses import ZONES


def build_call_map(zones: int = 4) -> CallMap:
    """Return the map of a house with `zones` two-port zones, the last one the hot water."""
    names = [*ZONES[: zones - 1], "Hot water"]
    states = tuple(f"zone-{number}" for number in range(1, zones + 1))
    nodes = [CallNode(id="timer", words="Programmer", kind="timer", live_in=states)]
    edges = []
    for number, (name, state) in enumerate(zip(names, states, strict=True), 1):
        live_in = (state,)
        stat, valve = f"{name} thermostat", f"{name} valve"
        nodes.append(CallNode(id=stat, words=stat, kind="thermostat", live_in=live_in))
        nodes.append(CallNode(id=valve, words=valve, kind="valve", live_in=live_in))
        edges.append(CallEdge(start="timer", end=stat, words=f"On {number}", live_in=live_in))
        edges.append(CallEdge(start=stat, end=valve, words="call", live_in=live_in))
        edges.append(CallEdge(start=valve, end="boiler", words="end switch", live_in=live_in))
    nodes.append(CallNode(id="boiler", words="Boiler", kind="boiler", live_in=states))
    nodes.append(CallNode(id="pump", words="Pump", kind="pump", live_in=states))
    edges.append(CallEdge(start="boiler", end="pump", live_in=states))
    return CallMap(
        prefix="house",
        title="What calls what",
        nodes=tuple(nodes),
        edges=tuple(edges),
        states=states,
    )
