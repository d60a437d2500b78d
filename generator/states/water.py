"""Where water goes in every state: which circuits flow, which pump has no way, what is heated that nobody asked for.

Joins the answers of the all-state solver with the graph of the water. Vectors are over the same states. It knows
open and shut, running and still; no pressures, and nothing of how long anything stays hot.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, WaterCircuit
from generator.states.answer import Answer, Solution
from generator.states.space import StateSpace
from generator.states.water_graph import Branch, BranchKind, water_branches

_ALWAYS_HOT = frozenset({"solid fuel", "thermal store", "heat network"})
_COILS = frozenset({"cylinder coil", "thermal store", "heat exchanger"})


@dataclass(frozen=True, slots=True, kw_only=True)
class CircuitFlow:
    """One circuit in every state.

    ``open``: nothing shuts it. ``forward``: a pump drives water through it the way it is meant. ``gravity``: water
    moves in it by itself. ``backward``: another circuit's pump can draw water through it the wrong way, since
    nothing stops it. ``asked``: a zone that it serves calls. ``hot``: it flows in any way while its source is hot.
    """

    circuit: WaterCircuit
    open: int
    forward: int
    gravity: int
    backward: int
    asked: int
    hot: int

    @property
    def flows(self) -> int:
        """The states in which water moves in it, whichever way."""
        return self.forward | self.gravity | self.backward

    @property
    def unasked(self) -> int:
        """The states in which it is heated and no zone that it serves calls."""
        return self.hot & ~self.asked


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterAnswer:
    """The water in the states of one answer.

    ``running``: some pump runs. ``shut``: a pump runs and every circuit that it could drive is shut. ``dead_head``:
    that, and there is no bypass or header either. ``bypass``: water goes through the bypass. ``hot``: the boiler is
    called and heats.
    """

    flows: tuple[CircuitFlow, ...]
    running: int
    shut: int
    dead_head: int
    bypass: int
    hot: int

    def flow(self, circuit: str) -> CircuitFlow:
        """The flow of a circuit by its name. Raises KeyError."""
        for item in self.flows:
            if item.circuit.name == circuit:
                return item
        raise KeyError(circuit)


def water_answer(solution: Solution, answer: Answer) -> WaterAnswer:
    """Where water goes in the states of an answer.

    Complexity: a few operations on vectors for each pair of circuits of one source.
    """
    return _Water(solution, answer).all()


def calls_of_circuit(
    circuit: Circuit, space: StateSpace, item: WaterCircuit, held: Mapping[str, bool] | None = None
) -> int:
    """The states in which a zone that the circuit serves calls.

    Zones go with circuits by what opens both. A circuit that nothing opens serves the zones of its service that
    have nothing that opens them, else all of its service. A circuit that no zone names, as one of several actuators
    of a zone, counts as asked for in every state: nothing is known of what it is meant for. What calls by design (a
    frost thermostat, a hot stove) asks for every circuit. A control that is no input of the space is as it is
    ``held``, and off where nothing holds it.
    """
    service = "hot water" if item.feeds in _COILS else "heating"
    zones = [zone for zone in circuit.zones if zone.call_inputs]
    if item.opens:
        serving = [zone for zone in zones if zone.opens == item.opens]
    else:
        of_service = [zone for zone in zones if zone.serves == service]
        serving = [zone for zone in of_service if not zone.opens] or of_service
    if not serving:
        return space.everywhere

    def on(name: str) -> int:
        if name in space.inputs:
            return space.where(name)
        return space.everywhere if held and held.get(name) else 0

    vector = 0
    for control in circuit.called_inputs:
        if control.calls:
            vector |= on(control.name)
    for zone in serving:
        here = space.everywhere
        for group in zone.call_groups:
            any_of_them = 0
            for name in group:
                any_of_them |= on(name)
            here &= any_of_them
        vector |= here
    return vector


class _Water:
    def __init__(self, solution: Solution, answer: Answer) -> None:
        self.circuit = solution.circuit
        self.space = solution.space
        self.held = solution.held
        self.answer = answer
        self.branches = water_branches(solution.circuit)

    def all(self) -> WaterAnswer:
        loops = list(dict.fromkeys(branch.loop for branch in self.branches))
        found: dict[str, CircuitFlow] = {}
        running = shut = dead_head = bypass = 0
        for loop in loops:
            branches = [branch for branch in self.branches if branch.loop == loop]
            for flow in self.loop(branches, loop):
                found[flow.circuit.name] = flow
            runs, stuck, no_way, through = self.ways(branches)
            running, shut, dead_head, bypass = (
                running | runs,
                shut | stuck,
                dead_head | no_way,
                bypass | through,
            )
        return WaterAnswer(
            flows=tuple(found[item.name] for item in self.circuit.water.circuits),
            running=running,
            shut=shut,
            dead_head=dead_head,
            bypass=bypass,
            hot=self.hot(""),
        )

    def open(self, branch: Branch) -> int:
        return self.answer.at & (self.answer.on[branch.opens] if branch.opens else self.space.everywhere)

    def driven(self, branches: Sequence[Branch]) -> int:
        vector = 0
        for branch in branches:
            for load in branch.pumps:
                vector |= self.answer.fed[load]
        return vector & self.answer.at

    def hot(self, loop: str) -> int:
        """The states in which the source of a loop is hot, or may be: of what cannot be stopped, all."""
        source = next((item for item in self.circuit.water.sources if item.name == loop), None)
        if source is None:
            taken = {item.device for item in self.circuit.water.sources}
            devices = [d.name for d in self.circuit.with_duty(Duty.BOILER) if d.name not in taken]
        elif source.of in _ALWAYS_HOT:
            return self.answer.at
        else:
            devices = [source.device]
        vector = 0
        for device in devices:
            vector |= self.answer.on.get(f"{device}.firing", 0)
        if source is not None and source.of == "solar":
            vector |= self.driven([branch for branch in self.branches if branch.loop == loop])
        return vector & self.answer.at

    def common(self, branches: Sequence[Branch]) -> int:
        """The states in which the pump that serves all circuits of the loop runs.

        A pump inside the boiler's case that no record shows runs while the boiler is called.
        """
        if any(branch.pumps for branch in branches):
            return self.driven([branch for branch in branches if branch.kind is BranchKind.PUMP][-1:])
        hidden = self.circuit.water.pump in ("in the boiler", "not seen") and not branches[0].loop
        return self.hot("") if hidden else 0

    def loop(self, branches: Sequence[Branch], name: str) -> list[CircuitFlow]:
        circuits = [(branch, branch.circuit) for branch in branches if branch.circuit is not None]
        header = any(branch.kind is BranchKind.HEADER for branch in branches)
        common, hot = self.common(branches), self.hot(name)
        flows = []
        for branch, item in circuits:
            opened, own = self.open(branch), self.driven([branch])
            by_gravity = item.gravity and not item.pump
            others = 0
            for other, _ in circuits:
                if other is not branch and other.pumps and other.start == branch.start:
                    others |= self.open(other) & self.driven([other])
            # A common pump holds the flow above the return, so nothing runs backwards while it runs.
            backward = 0 if header or branch.checked else opened & ~own & ~common & others
            forward = opened & (own if by_gravity or (header and item.pump) else own | common)
            gravity = opened & hot if item.gravity else 0
            flows.append(
                CircuitFlow(
                    circuit=item,
                    open=opened,
                    forward=forward,
                    gravity=gravity & ~forward,
                    backward=backward,
                    asked=calls_of_circuit(self.circuit, self.space, item, self.held) & self.answer.at,
                    hot=hot & (forward | gravity | backward),
                )
            )
        return flows

    def ways(self, branches: Sequence[Branch]) -> tuple[int, int, int, int]:
        """Of one loop: where a pump runs, where its circuits are shut, where it has no way, where the bypass flows."""
        circuits = [branch for branch in branches if branch.kind is BranchKind.CIRCUIT]
        pumps = [branch for branch in branches if branch.kind is BranchKind.PUMP]
        bypass = any(branch.kind is BranchKind.BYPASS for branch in branches)
        header = any(branch.kind is BranchKind.HEADER for branch in branches)
        common = self.common(branches)
        some = own_stuck = 0
        for branch in circuits:
            if branch.start == pumps[-1].end:
                some |= self.open(branch)
            sharing = [each for each in circuits if set(each.pumps) & set(branch.pumps)]
            stuck_here = self.driven([branch])
            for each in sharing:
                stuck_here &= ~self.open(each)
            own_stuck |= stuck_here
        # The boiler's own pump always has a way through a header.
        shut = 0 if not circuits or (header and len(pumps) == 1) else common & ~some
        stuck = shut | own_stuck
        no_way = own_stuck if bypass else stuck
        through = common & (self.space.everywhere if self.stands_open else ~some) if bypass else 0
        return common | self.driven(branches), stuck, no_way, through & self.answer.at

    @property
    def stands_open(self) -> bool:
        """Whether the bypass is a hand valve left open."""
        return self.circuit.water.bypass == "fixed"
