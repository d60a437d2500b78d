"""Which control acts on which, from timer to pump: the chain of contacts and loads in every zone's call.

Taken from the traces, so that it shows the wiring as it is and not as it was meant.
"""

from collections.abc import Callable
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, PlacedDevice
from generator.views.story import ZoneStory


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainNode:
    """A control or a load of the chain: ``kind`` is timer, thermostat, valve, boiler, pump, relay or other."""

    id: str
    words: str
    kind: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChainEdge:
    """One control acts on another. ``words`` says by what, such as ``end switch``; often empty."""

    start: str
    end: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class CallChain:
    """All that acts in the calls of a house, each once, in the order met."""

    nodes: tuple[ChainNode, ...]
    edges: tuple[ChainEdge, ...]


_KINDS = {
    Duty.TIMER: "timer",
    Duty.ROOM_THERMOSTAT: "thermostat",
    Duty.CYLINDER_THERMOSTAT: "thermostat",
    Duty.VALVE: "valve",
    Duty.BOILER: "boiler",
    Duty.PUMP: "pump",
    Duty.RELAY: "relay",
}


def call_chain(circuit: Circuit, stories: tuple[ZoneStory, ...]) -> CallChain:
    """The chain over all zones' calls."""
    devices = {device.name: device for device in circuit.devices}
    nodes: dict[str, ChainNode] = {}
    edges: dict[tuple[str, str], ChainEdge] = {}
    numbers: dict[str, str] = {}

    def node(key: str, device: PlacedDevice, words: str) -> str:
        if key not in nodes:
            numbers[key] = f"n{len(nodes)}"
            nodes[key] = ChainNode(id=numbers[key], words=words, kind=_KINDS.get(device.duty, "other"))
        return numbers[key]

    for story in stories:
        for event in story.events:
            before = ""
            by = ""
            for hop in event.path:
                if not hop.mover:
                    continue
                device = devices[hop.mover.split(".", 1)[0]]
                if device.duty is Duty.SUPPLY:
                    continue
                here = _mover(circuit, node, device, hop.mover)
                if before and before != here:
                    edges.setdefault((before, here), ChainEdge(start=before, end=here, words=by))
                before, by = here, _by(device)
            load = devices[event.load.split(".", 1)[0]]
            end = node(load.name, load, load.words)
            if before and before != end:
                edges.setdefault((before, end), ChainEdge(start=before, end=end, words=by))
    return CallChain(nodes=tuple(nodes.values()), edges=tuple(edges.values()))


def _mover(
    circuit: Circuit, node: Callable[[str, PlacedDevice, str], str], device: PlacedDevice, mover: str
) -> str:
    if device.duty is Duty.TIMER:
        item = next(item for item in circuit.inputs if item.name == mover)
        return node(mover, device, f"{device.words} {item.words}")
    return node(device.name, device, device.words)


def _by(device: PlacedDevice) -> str:
    return "end switch" if device.duty is Duty.VALVE else ""
