"""Which control acts on which, from timer to pump: the chain of contacts and loads in every zone's call.

Taken from the traces, so that it shows the wiring as it is and not as it was meant. Gives the input of the call map.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Is, atoms
from generator.circuit.model import PlacedDevice
from generator.drawings.call_map_model import CallEdge, CallMap, CallNode, CallPart
from generator.states.answer import Answer, Solution
from generator.views.needs import told_by
from generator.views.paths import Hop
from generator.views.shown_states import ShownState, answer_for
from generator.views.story import ZoneStory

_KINDS = {
    Duty.TIMER: "timer",
    Duty.ROOM_THERMOSTAT: "thermostat",
    Duty.CYLINDER_THERMOSTAT: "thermostat",
    Duty.FROST_THERMOSTAT: "thermostat",
    Duty.PIPE_THERMOSTAT: "thermostat",
    Duty.CONTROLLER: "controller",
    Duty.SAFETY: "safety",
    Duty.CYLINDER: "safety",
    Duty.VALVE: "valve",
    Duty.PUMP: "pump",
    Duty.RELAY: "relay",
}


def call_map(
    solution: Solution, states: Sequence[ShownState], stories: Sequence[ZoneStory], *, title: str
) -> CallMap | None:
    """The chain over all zones' calls; None where no zone's call does anything.

    A control is lit in the states in which what comes after it is live, a load in those in which it is fed.
    """
    chain = _Chain(solution, states)
    parts = []
    for story in stories:
        chain.passed = set()
        chain.touched = set()
        for event in story.events:
            chain.follow(event.load, [hop for hop in event.path if hop.mover])
        if chain.touched:
            parts.append(
                CallPart(
                    id=story.zone.name,
                    words=story.zone.words,
                    nodes=frozenset(chain.touched),
                    edges=frozenset(chain.passed),
                )
            )
    if not chain.nodes:
        return None
    return CallMap(
        prefix="calls",
        title=title,
        nodes=tuple(chain.nodes.values()),
        edges=tuple(chain.edges.values()),
        description="From left to right: each arrow is a contact that must be made for the next part to work.",
        states=tuple(state.id for state in states),
        parts=tuple(parts),
    )


@dataclass(slots=True)
class _Chain:
    solution: Solution
    states: Sequence[ShownState]
    nodes: dict[str, CallNode] = field(default_factory=dict)
    edges: dict[tuple[str, str], CallEdge] = field(default_factory=dict)
    touched: set[str] = field(default_factory=set)
    passed: set[tuple[str, str]] = field(default_factory=set)

    def follow(self, load: str, contacts: Sequence[Hop]) -> None:
        """Add one load's way: what moves each contact on it, in order, then the load's device."""
        before, by = "", ""
        for hop in contacts:
            device = self._device(hop.mover)
            if device.duty is Duty.SUPPLY:
                continue
            here = self._control(device, hop)
            self._join(before, here, by)
            before, by = here, "end switch" if hop.mover.endswith(".end-switch") else ""
        device = self._device(load)
        end = self._node(device.name, device, device.words, self._works(load))
        self._join(before, end, by)

    def _works(self, load: str) -> Callable[[Answer], int]:
        """When a load is fed; of a sensing source, when what it tells is on."""
        for sense in self.solution.circuit.senses:
            if sense.name == load:
                parts = told_by(self.solution.circuit, sense)
                return lambda answer: answer.on[parts[0].name]
        return lambda answer: answer.fed[load]

    def _device(self, name: str) -> PlacedDevice:
        return self.solution.circuit.device(name.split(".", 1)[0])

    def _join(self, start: str, end: str, by: str) -> None:
        self.touched.add(end)
        if start and start != end:
            self.passed.add((start, end))
        if start and start != end and (start, end) not in self.edges:
            ends = {node.id: node for node in self.nodes.values()}
            lit = tuple(state for state in ends[start].live_in if state in ends[end].live_in)
            self.edges[start, end] = CallEdge(start=start, end=end, words=by, live_in=lit)

    def _control(self, device: PlacedDevice, hop: Hop) -> str:
        def after(answer: Answer) -> int:
            return answer.line[hop.to_ref]

        if device.duty is Duty.TIMER:
            behind = self._behind(hop.mover)
            item = next((item for item in device.parts.inputs if item.name in behind), None)
            if item is not None:
                return self._node(item.name, device, f"{device.words} {item.words}", after)
        return self._node(device.name, device, device.words, after)

    def _behind(self, mover: str) -> set[str]:
        """What moves a contact: itself, and what a moving part goes by in its turn."""
        names, found = [mover], set[str]()
        while names:
            name = names.pop()
            if name not in found:
                found.add(name)
                whens = [part.when for part in self.solution.circuit.driven if part.name == name]
                names += [leaf.name for when in whens for leaf in atoms(when) if isinstance(leaf, Is)]
        return found

    def _node(self, key: str, device: PlacedDevice, words: str, on: Callable[[Answer], int]) -> str:
        if key not in self.nodes:
            self.nodes[key] = CallNode(
                id=key,
                words=words,
                kind=device.kind.words if device.duty is Duty.BOILER else _KINDS.get(device.duty, "other"),
                live_in=tuple(
                    state.id
                    for state in self.states
                    if on(answer_for(self.solution, state)) >> self.solution.space.state(state.on) & 1
                ),
            )
        return self.nodes[key].id
