"""Which control acts on which, from timer to pump: the chain of contacts and loads in every zone's call.

Taken from the traces, so that it shows the wiring as it is and not as it was meant. Gives the input of the call map.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field

from generator.catalogue.kind import Duty
from generator.circuit.model import PlacedDevice
from generator.drawings.call_map_model import CallEdge, CallMap, CallNode
from generator.states.answer import Solution
from generator.views.shown_states import ShownState
from generator.views.story import ZoneStory

_KINDS = {
    Duty.TIMER: "timer",
    Duty.ROOM_THERMOSTAT: "thermostat",
    Duty.CYLINDER_THERMOSTAT: "thermostat",
    Duty.CYLINDER: "safety",
    Duty.VALVE: "valve",
    Duty.BOILER: "boiler",
    Duty.PUMP: "pump",
    Duty.RELAY: "relay",
}


def call_map(
    solution: Solution, states: Sequence[ShownState], stories: Sequence[ZoneStory], *, title: str
) -> CallMap | None:
    """The chain over all zones' calls; None where no zone's call does anything.

    A control is lit in the states in which it lets live through, a load in those in which it is fed.
    """
    chain = _Chain(solution, states)
    for story in stories:
        for event in story.events:
            chain.follow(event.load, [hop.mover for hop in event.path if hop.mover])
    if not chain.nodes:
        return None
    return CallMap(
        prefix="calls",
        title=title,
        nodes=tuple(chain.nodes.values()),
        edges=tuple(chain.edges.values()),
        description="From left to right: each arrow is a contact that must be made for the next part to work.",
        states=tuple(state.id for state in states),
    )


@dataclass(slots=True)
class _Chain:
    solution: Solution
    states: Sequence[ShownState]
    nodes: dict[str, CallNode] = field(default_factory=dict)
    edges: dict[tuple[str, str], CallEdge] = field(default_factory=dict)

    def follow(self, load: str, movers: Sequence[str]) -> None:
        """Add one load's way: what moves each contact on it, in order, then the load's device."""
        before, by = "", ""
        for mover in movers:
            device = self._device(mover)
            if device.duty is Duty.SUPPLY:
                continue
            here = self._mover(device, mover)
            self._join(before, here, by)
            before, by = here, "end switch" if device.duty is Duty.VALVE else ""
        device = self._device(load)
        end = self._node(device.name, device, device.words, self.solution.settled.fed[load])
        self._join(before, end, by)

    def _device(self, name: str) -> PlacedDevice:
        return self.solution.circuit.device(name.split(".", 1)[0])

    def _join(self, start: str, end: str, by: str) -> None:
        if start and start != end and (start, end) not in self.edges:
            ends = {node.id: node for node in self.nodes.values()}
            lit = tuple(state for state in ends[start].live_in if state in ends[end].live_in)
            self.edges[start, end] = CallEdge(start=start, end=end, words=by, live_in=lit)

    def _mover(self, device: PlacedDevice, mover: str) -> str:
        solution = self.solution
        for item in solution.circuit.inputs:
            if item.name == mover:
                fixed = solution.space.everywhere if solution.held.get(mover) else 0
                on = fixed if mover in solution.held else solution.space.where(mover)
                if device.duty is Duty.TIMER:
                    return self._node(mover, device, f"{device.words} {item.words}", on)
                passing = solution.space.everywhere & ~on if device.duty is Duty.CYLINDER else on
                return self._node(device.name, device, device.words, passing)
        return self._node(device.name, device, device.words, solution.settled.on[mover])

    def _node(self, key: str, device: PlacedDevice, words: str, on: int) -> str:
        if key not in self.nodes:
            self.nodes[key] = CallNode(
                id=f"n{len(self.nodes)}",
                words=words,
                kind=_KINDS.get(device.duty, "other"),
                live_in=tuple(
                    state.id for state in self.states if on >> self.solution.space.state(state.on) & 1
                ),
            )
        return self.nodes[key].id
