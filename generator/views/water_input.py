"""The plain input of the water-side drawing: where water moves in each shown state, found by the water's own solver."""

from collections.abc import Callable, Sequence
from functools import reduce
from operator import or_

from generator.catalogue.kind import Duty
from generator.catalogue.parts import LoadKind
from generator.circuit.model import Circuit, WaterCircuit
from generator.drawings.water_model import (
    Feeds,
    Heats,
    WaterDrawing,
    WaterLoop,
    WaterPump,
    WaterRow,
    WaterValve,
    together,
)
from generator.states.answer import Solution
from generator.states.water import CircuitFlow, WaterAnswer, water_answer
from generator.states.water_graph import Branch, BranchKind, water_branches
from generator.views.shown_in import places_of, shown_in
from generator.views.shown_states import ShownState
from generator.views.wording import capital, listed

_FEEDS = {
    "radiators": Feeds.RADIATORS,
    "underfloor": Feeds.FLOOR,
    "towel rail": Feeds.RAIL,
    "cylinder coil": Feeds.COIL,
    "thermal store": Feeds.COIL,
    "heat exchanger": Feeds.PLATES,
}
_HEATS = {
    "boiler": Heats.BURNER,
    "heat pump": Heats.COMPRESSOR,
    "solar": Heats.SUN,
    "thermal store": Heats.VESSEL,
    "heat network": Heats.PLATES,
    "solid fuel": Heats.BURNER,
}
_BY_PART = {"burner": Heats.BURNER, "compressor": Heats.COMPRESSOR, "valve": Heats.PLATES}
_BYPASS = {"fixed": "Bypass, fixed open", "in the boiler": "Bypass in the boiler"}
_UNASKED, _UNSTOPPED = "heated though it does not call", "no control stops this heat"
_HEADERS = {"low-loss": "Low-loss header", "buffer": "Buffer vessel"}


def water_drawing(
    solution: Solution, states: Sequence[ShownState], *, title: str, prefix: str = "water"
) -> WaterDrawing | None:
    """The water side of the house; None where no circuit is recorded."""
    if not solution.circuit.water.circuits:
        return None
    maker = _Maker(solution, states)
    return WaterDrawing(
        prefix=prefix,
        title=title,
        description="Flow on the left, red and solid; return on the right, blue and dashed. "
        "Water moves where the pipe is wide and has arrows.",
        loops=tuple(maker.loop(name) for name in dict.fromkeys(branch.loop for branch in maker.branches)),
        states=tuple(state.id for state in states),
    )


class _Maker:
    def __init__(self, solution: Solution, states: Sequence[ShownState]) -> None:
        self.solution = solution
        self.circuit = solution.circuit
        self.places = places_of(solution, states)
        answers = {id(place.answer): place.answer for place in self.places}
        self.waters = {key: water_answer(solution, answer) for key, answer in answers.items()}
        self.branches = water_branches(self.circuit)
        self.words = {device.name: device.words for device in self.circuit.devices}

    def shown(self, of: Callable[[WaterAnswer], int]) -> tuple[str, ...]:
        """The shown states in which something is so of the water."""
        return shown_in(self.places, lambda answer: of(self.waters[id(answer)]))

    def flow(self, circuit: str, of: Callable[[CircuitFlow], int]) -> tuple[str, ...]:
        """The shown states in which something is so of one circuit."""
        return self.shown(lambda answer: of(answer.flow(circuit)))

    def pump(self, branch: Branch) -> WaterPump | None:
        if not branch.pumps:
            return None
        runs = shown_in(self.places, lambda answer: reduce(or_, (answer.fed[load] for load in branch.pumps)))
        boilers = {device.name for device in self.circuit.with_duty(Duty.BOILER)}
        names = dict.fromkeys(
            "Pump inside" if device in boilers else self.words[device]
            for load in branch.pumps
            for device in (load.split(".", 1)[0],)
        )
        return WaterPump(name=listed(list(names)), on_in=runs)

    def loop(self, name: str) -> WaterLoop:
        branches = [branch for branch in self.branches if branch.loop == name]
        water = self.circuit.water
        rows = tuple(self.row(branch) for branch in branches if branch.circuit is not None)
        pumps = [self.pump(branch) for branch in branches if branch.kind is BranchKind.PUMP]
        main = not name
        source = next((item for item in water.sources if item.name == name), None)
        own = [row.circuit.name for row in branches if row.circuit is not None]
        hot = (
            self.shown(lambda answer: answer.hot)
            if main
            else together(*(self.flow(circuit, lambda flow: flow.hot) for circuit in own))
        )
        bypass = water.bypass if main and water.bypass not in ("none", "not seen") else ""
        through = together(
            *(row.moves_in for row in rows), self.shown(lambda answer: answer.bypass) if main else ()
        )
        if main and water.header != "none" and pumps[0] is not None:
            through = pumps[0].on_in
        return WaterLoop(
            id="main" if main else f"s{[item.name for item in water.sources].index(name)}",
            source=self.source_words(name),
            heats=_HEATS.get(source.of, Heats.PLAIN) if source else self.heats(),
            rows=rows,
            hot_in=hot,
            through_in=through,
            pump=pumps[0],
            pump_on_return=main and water.pump == "on the return",
            header=_HEADERS.get(water.header, "") if main else "",
            header_pump=pumps[1] if len(pumps) > 1 else None,
            bypass=_BYPASS.get(bypass) or self.words.get(bypass, ""),
            bypass_in=self.shown(lambda answer: answer.bypass) if bypass else (),
        )

    def heats(self) -> Heats:
        """How the main source makes its heat, told by its parts: by what its own control switches."""
        taken = {item.device for item in self.circuit.water.sources}
        for device in self.circuit.with_duty(Duty.BOILER):
            if device.name not in taken:
                if any(load.kind is LoadKind.HEATER for load in device.parts.loads):
                    return Heats.ELEMENT
                switched = {contact.name for contact in device.parts.contacts}
                return next(
                    (sign for part, sign in _BY_PART.items() if f"{device.name}.{part}" in switched),
                    Heats.PLAIN,
                )
        return Heats.PLAIN

    def source_words(self, name: str) -> str:
        source = next((item for item in self.circuit.water.sources if item.name == name), None)
        if source is not None:
            return self.words.get(source.device) or capital(source.of)
        taken = {item.device for item in self.circuit.water.sources}
        boilers = [d.words for d in self.circuit.with_duty(Duty.BOILER) if d.name not in taken]
        return boilers[0] if boilers else "Source of heat"

    def row(self, branch: Branch) -> WaterRow:
        item = branch.circuit
        if item is None:
            raise ValueError(f"{branch.name} is no circuit")
        return WaterRow(
            id=item.name,
            name=circuit_words(self.circuit, item),
            detail=self.detail(item),
            feeds=_FEEDS[item.feeds],
            valve=WaterValve(
                id=item.valve,
                way=item.opens.rpartition(".")[2],
                name=self.words[item.valve],
                on_in=self.flow(item.name, lambda flow: flow.open),
            )
            if item.valve
            else None,
            pump=self.pump(branch),
            gravity=item.gravity and not item.pump,
            check_valve=bool(item.check_valve),
            blending=bool(item.blending),
            on_in=self.flow(item.name, lambda flow: flow.forward | flow.gravity),
            back_in=self.flow(item.name, lambda flow: flow.backward),
            note=_UNSTOPPED if self.unstopped(item) else _UNASKED,
            note_in=self.flow(item.name, lambda flow: flow.hot if self.unstopped(item) else flow.unasked),
        )

    def unstopped(self, item: WaterCircuit) -> bool:
        """Whether its source is one that no control can stop."""
        return any(
            source.name == item.source and source.of == "solid fuel" for source in self.circuit.water.sources
        )

    def detail(self, item: WaterCircuit) -> str:
        """What it feeds and where, without what its name says already."""
        where = item.where if item.where.lower() != circuit_words(self.circuit, item).lower() else ""
        gravity = "by gravity" if item.gravity and not item.pump else ""
        return ", ".join(part for part in (item.feeds, gravity, where) if part)


def circuit_words(circuit: Circuit, item: WaterCircuit) -> str:
    """The words of the zone that a water circuit alone serves, else made from the circuit's own name."""
    zones = [zone.words for zone in circuit.zones if item.opens and zone.opens == item.opens]
    alone = sum(1 for each in circuit.water.circuits if each.opens == item.opens) == 1
    return zones[0] if alone and len(zones) == 1 else capital(item.name.replace("-", " "))
