"""The plain input of the ladder, with rungs derived from the solved circuit and not from any arrangement's name."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from generator.catalogue.kind import Duty
from generator.catalogue.parts import Contact, InputKind, Load, LoadKind
from generator.circuit.model import PlacedDevice
from generator.drawings.ladder_model import (
    Blade,
    Block,
    EndLoad,
    Joint,
    Ladder,
    Parallel,
    Rails,
    Rung,
    Series,
    Shape,
    Sign,
)
from generator.states.answer import Answer, Solution
from generator.views.needs import is_input
from generator.views.paths import moved_by
from generator.views.rungs import Beside, Chain, Feeds, Passed, arranged, contacts_in
from generator.views.shown_in import places_of, shown_in
from generator.views.shown_states import ShownState
from generator.views.wording import lower

_SHAPES = {
    LoadKind.MOTOR: Shape.MOTOR,
    LoadKind.PUMP: Shape.MOTOR,
    LoadKind.COIL: Shape.COIL,
    LoadKind.LAMP: Shape.LAMP,
    LoadKind.DEMAND: Shape.BOX,
    LoadKind.HEATER: Shape.HEATER,
}
_SIGNS = {
    InputKind.CHANNEL: Sign.CLOCK,
    InputKind.BOOST: Sign.CLOCK,
    InputKind.THERMOSTAT: Sign.HEAT,
    InputKind.SENSOR: Sign.HEAT,
    InputKind.TRIP: Sign.HEAT,
}
_LATER = {Duty.CONTROLLER: 1, Duty.VALVE: 1, Duty.RELAY: 2, Duty.BOILER: 3}
"""Which rungs stand lower, by what moves their contacts."""


def ladder(
    solution: Solution, states: Sequence[ShownState], *, title: str, prefix: str = "ladder"
) -> Ladder | None:
    """The ladder of the house; None where nothing is switched."""
    maker = _Maker(solution, states)
    rails = [*maker.mains(), *maker.volt_free()]
    if not rails:
        return None
    return Ladder(
        prefix=prefix,
        title=title,
        rails=tuple(rails),
        description="Each rung is a load and the contacts that must be made to feed it, from the permanent live on the "
        "left to the neutral on the right; what has a supply of its own has rails of its own. Letters in circles are terminals of the wiring centre.",
        states=maker.ids,
    )


class _Maker:
    def __init__(self, solution: Solution, states: Sequence[ShownState]) -> None:
        self.solution = solution
        self.circuit = solution.circuit
        self.places = places_of(solution, states)
        self.ids = tuple(state.id for state in states)
        self.feeds = Feeds(self.circuit, solution.answers)
        self.rail = self.feeds.always(lambda answer, node: answer.line[node])
        self.back = self.feeds.always(lambda answer, node: answer.neutral[node] | answer.earth[node])
        self.devices = {device.name: device for device in self.circuit.devices}
        self.inputs = {item.name: item for item in self.circuit.inputs}
        self.driven = {part.name: part for part in self.circuit.driven}
        self.landed = self._landings()

    def mains(self) -> Iterator[Rails]:
        """The rungs that each supply feeds, between rails of its own; one pair where there is one supply."""
        items = self.items()
        left_out = "Not every way is drawn: there are too many." if self.feeds.left_out else ""
        by_supply: dict[str, list[Rung | Block]] = {}
        for supply, item in items:
            by_supply.setdefault(supply, []).append(item)
        several = len(by_supply) > 1
        for supply, found in by_supply.items():
            from_where = f"Fed by the {lower(self.device(supply).words)}:" if several and supply else ""
            yield Rails(
                left="L",
                right="N",
                items=tuple(found),
                words=" ".join(part for part in (left_out, from_where) if part),
                live_in=self.ids,
            )
            left_out = ""

    def supply(self, chain: Chain) -> str:
        """The supply whose line a chain begins at; empty where the wiring does not tell."""
        joined = self.feeds.one_with(self.feeds.net(contacts_in(chain)[0].start))
        found = [each.name for each in self.circuit.supplies if self.feeds.net(each.line) in joined]
        return found[0] if len(found) == 1 else ""

    def _landings(self) -> dict[str, str]:
        """The terminal of a wiring centre that each device terminal is wired to, as it is labelled."""
        centres = self.circuit.with_duty(Duty.CENTRE)
        labels = [terminal.name for centre in centres for terminal in centre.parts.terminals]
        # As on the terminal drawing: the centre is named only where a label alone does not tell it.
        marked = len(labels) != len(set(labels))
        marks = {
            centre.name: f"{chr(ord('A') + index)}:" if marked else "" for index, centre in enumerate(centres)
        }
        found: dict[str, str] = {}
        for conductor in self.circuit.conductors:
            for end, other in ((conductor.a, conductor.b), (conductor.b, conductor.a)):
                device, terminal = other.split(".", 1)
                if device in marks and end.split(".", 1)[0] not in marks:
                    found.setdefault(end, f"{marks[device]}{terminal}")
        return found

    def device(self, name: str) -> PlacedDevice:
        return self.devices[name.split(".", 1)[0]]

    def shown(self, of: Callable[[Answer], int]) -> tuple[str, ...]:
        """The shown states in which something is so; ``of`` gives its vector in an answer."""
        return shown_in(self.places, of)

    def live(self, point: str) -> tuple[str, ...]:
        return self.shown(lambda answer: answer.line[point])

    # Rungs.

    def blocks(self) -> dict[str, tuple[str, ...]]:
        """Devices with a mechanism of their own: several of their terminals lead to one load by their own contacts."""
        found = {}
        for device in self.circuit.devices:
            inner = set(device.parts.inner)
            for load in device.parts.loads:
                outer = [
                    a
                    for contact in device.parts.contacts
                    for a, b in ((contact.a, contact.b), (contact.b, contact.a))
                    if b in (load.a, load.b) and b in inner and a not in inner
                ]
                if len(set(outer)) > 1:
                    pins = {p for c in device.parts.contacts for p in (c.a, c.b) if p not in inner}
                    found[device.name] = tuple(
                        f"{device.name}.{t.name}"
                        for t in device.parts.terminals
                        if f"{device.name}.{t.name}" in pins
                    )
        return found

    def items(self) -> tuple[tuple[str, Rung | Block], ...]:
        """Every rung with the supply that feeds it."""
        blocks = self.blocks()
        pins = {self.feeds.net(pin): pin for found in blocks.values() for pin in found}
        by_net: dict[int, list[Load]] = {}
        for load in self.circuit.loads:
            net = self.hot(load)
            if net is not None and self.device(load.name).name not in blocks:
                by_net.setdefault(net, []).append(load)
        placed: list[tuple[int, str, Rung | Block]] = []
        for net, loads in by_net.items():
            if net not in pins:
                chain = arranged(self.feeds.ways(net, self.rail))
                if chain:
                    rung = self.rung(loads[0].name, chain, loads)
                    placed.append((self.level(chain), self.supply(chain), rung))
        for name, found in blocks.items():
            chains = [arranged(self.feeds.ways(self.feeds.net(pin), self.rail)) for pin in found]
            supply = next((self.supply(chain) for chain in chains if chain), "")
            placed.append((1, supply, self.block(name, self.devices[name], found, by_net)))
        placed.sort(key=lambda item: item[0])
        return tuple((supply, item) for _, supply, item in placed)

    def hot(self, load: Load) -> int | None:
        """The net on the live side of a load that is switched; None for loads not shown."""
        inside = load.kind is LoadKind.HEATER and self.device(load.name).duty in (
            Duty.ROOM_THERMOSTAT,
            Duty.CYLINDER_THERMOSTAT,
        )
        if (
            not (load.kind in _SHAPES or is_input(self.circuit, load))
            or inside
            or not any(answer.fed[load.name] for answer in self.solution.answers)
        ):
            return None
        a, b = self.feeds.net(load.a), self.feeds.net(load.b)
        hot = b if a in self.back or (b not in self.back and b in self.rail) else a
        return None if hot in self.rail else hot

    def level(self, chain: Chain) -> int:
        levels = [0]
        for passed in contacts_in(chain):
            contact = self.circuit.contacts[passed.contact]
            if moved_by(contact.when)[0] in self.driven:
                levels.append(_LATER.get(self.device(contact.name).duty, 1))
        return max(levels)

    def rung(self, name: str, chain: Chain, loads: Sequence[Load], pin: str = "", at: str = "") -> Rung:
        first = contacts_in(chain)
        ends = [load.a if self.feeds.net(load.a) not in self.back else load.b for load in loads]
        point = at or (ends[0] if ends else "")
        return Rung(
            id=name,
            series=tuple(self.series(name, chain, point)),
            loads=tuple(self.end_load(f"{name}-e{n}", load) for n, load in enumerate(loads)),
            first_live_in=self.live(first[0].start) if first else (),
            pin=pin,
            end_live_in=self.live(point) if point else (),
        )

    def end_load(self, name: str, load: Load) -> EndLoad:
        device = self.device(load.name)
        cold = load.b if self.feeds.net(load.b) in self.back else load.a
        whole = load.kind in (LoadKind.MOTOR, LoadKind.PUMP, LoadKind.COIL) or load.words == device.words
        return EndLoad(
            id=name,
            name=device.words,
            detail="" if whole else load.words.removeprefix(f"{device.kind.words} "),
            shape=_SHAPES.get(load.kind, Shape.BOX),
            back=self.landed.get(cold, ""),
            live_in=self.shown(lambda answer: answer.fed[load.name]),
        )

    def block(
        self, name: str, device: PlacedDevice, pins: Sequence[str], by_net: Mapping[int, list[Load]]
    ) -> Block:
        own = {contact.name for contact in device.parts.contacts}
        without = frozenset(n for n, contact in enumerate(self.circuit.contacts) if contact.name in own)
        terminals = {f"{device.name}.{t.name}": t for t in device.parts.terminals}
        cores = {
            end: conductor.core
            for conductor in self.circuit.conductors
            for end in (conductor.a, conductor.b)
            if end in terminals and conductor.core
        }
        rungs = [
            self.rung(
                f"{name}-{number}",
                arranged(self.feeds.ways(self.feeds.net(pin), self.rail, without)),
                by_net.get(self.feeds.net(pin), []),
                pin=(cores.get(pin) or terminals[pin].usual_core or terminals[pin].name).rstrip("0123456789"),
                at=pin,
            )
            for number, pin in enumerate(pins)
        ]
        motors = [load for load in device.parts.loads if load.kind is LoadKind.MOTOR]
        cold = motors[0].b if motors else ""
        return Block(
            id=name,
            name=device.words,
            rungs=tuple(sorted(rungs, key=lambda rung: bool(rung.loads))),
            back=self.landed.get(cold, ""),
            live_in=self.shown(lambda answer: answer.fed[motors[0].name]) if motors else (),
        )

    def volt_free(self) -> Iterator[Rails]:
        """Circuits that a device senses itself, apart from the mains: a ladder of their own each."""
        for sense in self.circuit.senses:
            net = self.feeds.net(sense.b)
            chain = arranged(self.feeds.ways(net, frozenset({self.feeds.net(sense.a)})))
            if not chain:
                continue
            device = self.device(sense.name)
            name = sense.name
            load = EndLoad(id=f"{name}-e0", name=device.words, detail="senses", shape=Shape.BOX)
            rung = Rung(id=name, series=tuple(self.series(name, chain, sense.b)), loads=(load,))
            yield Rails(
                left=sense.a.split(".", 1)[1],
                right=sense.b.split(".", 1)[1],
                items=(rung,),
                words=f"{device.words}: apart from the mains, never 230 V here",
            )

    # Parts of a rung.

    def series(
        self, name: str, chain: Chain, end: str, *, inner: bool = False
    ) -> Iterator[Joint | Blade | Parallel]:
        """A chain as drawn; `inner` for a way inside a parallel, which has no letters at its ends."""
        for index, part in enumerate(chain):
            if isinstance(part, Beside):
                ways: tuple[Series, ...] = tuple(
                    tuple(self.series(f"{name}-{index}-{n}", way, "", inner=True))
                    for n, way in enumerate(part.ways)
                )
                to = contacts_in(part.ways[0])[-1].to
                yield Parallel(ways=ways, live_in=self.live(to))
            else:
                before = chain[index - 1] if index else None
                if not (inner and before is None):
                    yield from self.joint(before, part.start)
                yield self.blade(f"{name}-{index}", part)
        if chain and not inner:
            yield from self.joint(chain[-1], end)

    def joint(self, before: Passed | Beside | None, after: str) -> Iterator[Joint]:
        """The letters between two parts of a rung: the terminals that both are wired to."""
        points = [before.to] if isinstance(before, Passed) else []
        letters = list(dict.fromkeys(self.landed[p] for p in (*points, after) if p in self.landed))
        if letters:
            yield Joint(text="–".join(letters), live_in=self.live(after or points[0]))

    def blade(self, name: str, passed: Passed) -> Blade:
        contact = self.circuit.contacts[passed.contact]
        device = self.device(contact.name)
        mover, wanted = moved_by(contact.when)
        return Blade(
            id=name,
            name=device.words,
            detail=self.detail(contact, mover, wanted),
            sign=self.sign(device, mover),
            breaks=not wanted,
            on_in=self.shown(lambda answer: answer.made[contact.name]),
            live_in=self.live(passed.to),
        )

    def detail(self, contact: Contact, mover: str, wanted: bool) -> str:
        """What tells the contact from others of its device."""
        item = self.inputs.get(mover)
        if item is None:
            return contact.words.removeprefix(f"{self.device(contact.name).kind.words}'s ")
        alone = sum(1 for each in self.device(mover).parts.contacts) == 1
        if item.kind is InputKind.THERMOSTAT:
            return "" if alone else (item.on_words if wanted else item.off_words)
        state = item.on_words if wanted else item.off_words
        return state if item.words in self.device(mover).words.lower() else f"{item.words} {state}"

    def sign(self, device: PlacedDevice, mover: str) -> Sign:
        item = self.inputs.get(mover)
        if item is not None:
            return _SIGNS.get(item.kind, Sign.NONE)
        if device.duty is Duty.VALVE:
            return Sign.CAM
        return Sign.COIL if device.duty is Duty.RELAY else Sign.NONE
