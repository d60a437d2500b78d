"""What one conductor could be done to a circuit to put a mistake right: move it, exchange two, land one, take out a link.

Proposes only, likeliest first, by what each terminal is for; whether a change cures anything is tried elsewhere.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.catalogue.logic import Any, Expr, Is, Not
from generator.catalogue.parts import LoadKind, Role
from generator.circuit.model import Circuit, Conductor
from generator.rules.strays import strays
from generator.rules.words import the_conductor, the_terminal
from generator.states.network import fold

_PLAIN_CORES = ("BK", "GY", "WH", "OG", "RD", "VT", "PK")


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One change: what to do in words, the conductors it is done to (none where one is missing), and the circuit then."""

    words: str
    conductors: tuple[Conductor, ...]
    refs: tuple[str, ...]
    circuit: Circuit


@dataclass(frozen=True, slots=True, kw_only=True)
class _Landing:
    """A core at a terminal of a wiring centre: ``end`` is which end of it, ``far`` where its other end is."""

    conductor: Conductor
    end: str
    here: str
    far: str
    net: int


def edits(circuit: Circuit) -> Iterator[Edit]:
    """Changes that bring a core to the others of its sort: likely ones, each once."""
    yield from _Proposals(circuit).likely()


def every_edit(circuit: Circuit, devices: frozenset[str]) -> Iterator[Edit]:
    """Every move and exchange of cores between nets other than neutral and earth, those of some devices first."""
    yield from _Proposals(circuit).every(devices)


class _Proposals:
    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.group = fold(circuit).group
        self.tags = _tags(circuit)
        self.centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
        self.landings = list(self._landings())
        self.members: dict[int, list[_Landing]] = {}
        for landing in self.landings:
            self.members.setdefault(landing.net, []).append(landing)

    def likely(self) -> Iterator[Edit]:
        yield from self._with_their_cable()
        yield from self._beside()
        misfits = [landing for landing in self.landings if self._astray(landing)]
        homes = {id(landing): self._homes(landing) for landing in misfits}
        for landing in misfits:
            for there in homes[id(landing)]:
                if self.group[there] != landing.net and self._belongs(landing, self.group[there]):
                    yield self._moved(landing, there)
        for one, other in combinations(misfits, 2):
            if one.net != other.net and (
                any(self.group[ref] == other.net for ref in homes[id(one)])
                or any(self.group[ref] == one.net for ref in homes[id(other)])
            ):
                yield self._exchanged(one, other)
        yield from self._missing()
        yield from self._without_links()

    def every(self, devices: frozenset[str]) -> Iterator[Edit]:
        mine = [landing for landing in self.landings if self._tag(landing) not in ("neutral", "earth")]
        mine.sort(key=lambda landing: _device(landing.far) not in devices)
        nets = {
            net: landings[0].here
            for net, landings in self.members.items()
            if any(self._tag(each) not in ("neutral", "earth") for each in landings)
        }
        yield from self._missing(tuple(nets.values()))
        for landing in mine:
            for net, there in nets.items():
                if net != landing.net and self._belongs(landing, net):
                    yield self._moved(landing, there)
        for one, other in combinations(mine, 2):
            if one.net != other.net:
                yield self._exchanged(one, other)

    def _landings(self) -> Iterator[_Landing]:
        for item in self.circuit.conductors:
            if item.is_link:
                continue
            for end, here, far in (("a", item.a, item.b), ("b", item.b, item.a)):
                if _device(here) in self.centres:
                    yield _Landing(conductor=item, end=end, here=here, far=far, net=self.group[here])

    def _tag(self, landing: _Landing) -> str:
        return self.tags.get(landing.far, "")

    def _astray(self, landing: _Landing) -> bool:
        """Whether fewer of a landing's sort are beside it than it has elsewhere, or others outnumber it."""
        tag = self._tag(landing)
        beside = [self._tag(each) for each in self.members[landing.net] if each is not landing]
        if not beside or not tag:
            return True
        alike = beside.count(tag)
        elsewhere = max(
            (
                sum(self._tag(each) == tag for each in landings)
                for net, landings in self.members.items()
                if net != landing.net
            ),
            default=0,
        )
        return alike < max(elsewhere, 1) or alike < len(beside) - alike

    def _belongs(self, landing: _Landing, net: int) -> bool:
        """Whether a net has another of a landing's sort, or nothing whose sort is known: no output to the line, say."""
        tag = self._tag(landing)
        sorts = {self._tag(each) for each in self.members[net] if each is not landing} - {""}
        return not tag or not sorts or tag in sorts

    def _homes(self, landing: _Landing) -> list[str]:
        """Where its own sort lands, most of them first; then the terminals where a core is alone."""
        return self._homes_of(self._tag(landing), but=landing)

    def _homes_of(self, tag: str, but: _Landing | None = None) -> list[str]:
        found: dict[int, list[str]] = {}
        for each in self.landings:
            if each is not but and tag and self._tag(each) == tag:
                found.setdefault(each.net, []).append(each.here)
        full = Counter(each.here for each in self.landings if each is not but)
        most_first = sorted(found.values(), key=len, reverse=True)
        homes = [min(refs, key=lambda ref: full[ref]) for refs in most_first]
        alone = [landings[0].here for landings in self.members.values() if len(landings) == 1]
        return [*homes, *(ref for ref in alone if but is None or ref != but.here)]

    def _moved(self, landing: _Landing, there: str) -> Edit:
        item = landing.conductor
        return Edit(
            words=f"move {the_conductor(item)} from {the_terminal(self.circuit, landing.here)} to `{_terminal(there)}`",
            conductors=(item,),
            refs=(landing.far,),
            circuit=self._with(_landed_at(landing, there)),
        )

    def _exchanged(self, one: _Landing, other: _Landing) -> Edit:
        return Edit(
            words=f"exchange {the_conductor(one.conductor)} and {the_conductor(other.conductor)} "
            f"in the terminals `{_terminal(one.here)}` and `{_terminal(other.here)}`",
            conductors=(one.conductor, other.conductor),
            refs=(one.far, other.far),
            circuit=self._with(_landed_at(one, other.here), _landed_at(other, one.here)),
        )

    def _with_their_cable(self) -> Iterator[Edit]:
        """A core that left the way of its cable, moved back: to an empty terminal of the device, or to each net of the box."""
        full = Counter(ref for item in self.circuit.conductors for ref in (item.a, item.b))
        for stray in strays(self.circuit):
            landing = _Landing(
                conductor=stray.conductor,
                end=stray.end,
                here=stray.here,
                far=stray.far,
                net=self.group[stray.here],
            )
            refs = [place.ref for place in self.circuit.terminals if place.device.name == stray.device]
            if stray.device in self.centres:
                likely = [ref for ref in self._homes(landing) if ref in refs]
                by_net = {self.group[ref]: ref for ref in reversed([*likely, *refs])}
                refs = list(dict.fromkeys([*likely, *reversed(by_net.values())]))
            else:
                refs = [ref for ref in refs if not full[ref]]
            yield from (self._moved(landing, ref) for ref in refs)

    def _beside(self) -> Iterator[Edit]:
        """A core moved to an empty terminal of its own device; first where it is needed, and where two cores share one."""
        ends = [
            _Landing(conductor=item, end=end, here=here, far=far, net=self.group[here])
            for item in self.circuit.conductors
            if not item.is_link
            for end, here, far in (("a", item.a, item.b), ("b", item.b, item.a))
            if _device(here) not in self.centres
        ]
        full = Counter(each.here for each in ends)
        empty = [
            place
            for place in self.circuit.terminals
            if not full[place.ref] and place.device.name not in self.centres
        ]
        pairs = [(each, place) for place in empty for each in ends if _device(each.here) == place.device.name]
        for each, place in sorted(
            pairs,
            key=lambda pair: (
                not (pair[1].terminal.needed or pair[1].ref in self.tags),
                full[pair[0].here] == 1,
            ),
        ):
            yield self._moved(each, place.ref)

    def _missing(self, anywhere: tuple[str, ...] = ()) -> Iterator[Edit]:
        """A core landed from each terminal that has none to the others of its sort, of a device that has some.

        With terminals to try instead: those that are of no known sort, to each of them.
        """
        landed = {ref for item in self.circuit.conductors for ref in (item.a, item.b)}
        wired = {_device(ref) for ref in landed}
        model = next((item for item in self.circuit.conductors if not item.is_link), None)
        for place in self.circuit.terminals:
            if place.ref in landed or place.device.name in self.centres or place.device.name not in wired:
                continue
            tag = self.tags.get(place.ref, "")
            likely = anywhere if not tag else () if anywhere else self._homes_of(tag)
            for there in likely:
                if model is None:
                    continue
                added = replace(
                    model,
                    index=len(self.circuit.conductors),
                    a=place.ref,
                    b=there,
                    core=self._unused_core(place.device.name, place.terminal.usual_core),
                    cable=place.device.name,
                    sleeve="",
                )
                yield Edit(
                    words=f"land a core from {the_terminal(self.circuit, place.ref)}, where none is, in "
                    f"{the_terminal(self.circuit, there)}",
                    conductors=(),
                    refs=(place.ref,),
                    circuit=replace(self.circuit, conductors=(*self.circuit.conductors, added)),
                )

    def _unused_core(self, cable: str, usual: str) -> str:
        """A core that the cable can have besides those recorded: the usual one, or any colour."""
        used = {item.core for item in self.circuit.conductors if item.cable == cable}
        return next(
            core for core in (usual, *_PLAIN_CORES, f"{_PLAIN_CORES[0]}9") if core and core not in used
        )

    def _without_links(self) -> Iterator[Edit]:
        for item in self.circuit.conductors:
            if item.is_link:
                yield Edit(
                    words=f"take out {the_conductor(item)}",
                    conductors=(item,),
                    refs=(),
                    circuit=replace(
                        self.circuit, conductors=tuple(c for c in self.circuit.conductors if c is not item)
                    ),
                )

    def _with(self, *changed: Conductor) -> Circuit:
        by_index = {item.index: item for item in changed}
        return replace(
            self.circuit,
            conductors=tuple(by_index.get(item.index, item) for item in self.circuit.conductors),
        )


def _landed_at(landing: _Landing, there: str) -> Conductor:
    item = landing.conductor
    return replace(item, a=there) if landing.end == "a" else replace(item, b=there)


def _device(ref: str) -> str:
    return ref.split(".", 1)[0]


def _terminal(ref: str) -> str:
    return ref.split(".", 1)[1]


def _tags(circuit: Circuit) -> dict[str, str]:
    """What each terminal of a device is for: terminals with one tag are meant to be joined."""
    tags: dict[str, str] = {}
    for place in circuit.terminals:
        duty, role = place.device.duty, place.terminal.role
        if duty is Duty.CENTRE:
            continue
        if role is Role.NEUTRAL:
            tags[place.ref] = "neutral"
        elif role is Role.EARTH:
            tags[place.ref] = "earth"
        elif role is Role.PERMANENT_LINE or (duty is Duty.SUPPLY and role is Role.OUTPUT):
            tags[place.ref] = "line"
    _zone_tags(circuit, tags)
    _mid_position_tags(circuit, tags)
    outputs = [
        place.ref
        for place in circuit.terminals
        if place.ref.endswith(".pump") and _is_boiler(place.device.duty)
    ]
    tags |= dict.fromkeys(outputs, "pump")
    for load in circuit.loads:
        if load.kind is LoadKind.DEMAND:
            tags.setdefault(load.a, "boiler")
        elif load.kind is LoadKind.PUMP:
            tags.setdefault(load.a, "pump" if outputs else "boiler")
    for valve in circuit.with_duty(Duty.VALVE):
        for item in valve.parts.contacts:
            if item.name == f"{valve.name}.end-switch":
                tags.setdefault(item.a, "line")
                tags.setdefault(item.b, "boiler")
    return tags


def _is_boiler(duty: Duty) -> bool:
    return duty is Duty.BOILER


def _zone_tags(circuit: Circuit, tags: dict[str, str]) -> None:
    """The chain of each zone: channel, thermostat, valve or pump."""
    for zone in circuit.zones:
        calls = f"{zone.name} calls"
        for item in circuit.contacts:
            if zone.channel and _by(item.when, zone.channel):
                tags.setdefault(item.b, f"{zone.channel} on" if zone.thermostat else calls)
        if zone.thermostat:
            for item in circuit.device(zone.thermostat).parts.contacts:
                if _by(item.when, f"{zone.thermostat}.calling"):
                    tags.setdefault(item.a, f"{zone.channel} on" if zone.channel else "line")
                    tags.setdefault(item.b, calls)
        driver = zone.valve or zone.pump
        for load in circuit.device(driver).parts.loads if driver else ():
            if load.kind in (LoadKind.MOTOR, LoadKind.PUMP):
                tags.setdefault(load.a, calls)


def _mid_position_tags(circuit: Circuit, tags: dict[str, str]) -> None:
    """A valve that is told by a line when hot water is off: it calls the boiler for heating itself."""
    outside = {place.ref for place in circuit.terminals}
    for zone in circuit.zones:
        off, heat, out = (f"{zone.valve}.{part}" for part in ("water-off", "heat", "out"))
        if not zone.valve or off not in outside:
            continue
        if zone.serves != "hot water":
            tags[heat] = f"{zone.name} calls"
            continue
        tags |= {off: "water off", out: "boiler"}
        inputs = (zone.channel, f"{zone.thermostat}.calling")
        for item in circuit.contacts:
            if any(item.when == Not(Is(name)) for name in inputs):
                tags[item.b] = "water off"
            elif zone.thermostat and _by(item.when, inputs[1]):
                tags[item.b] = "boiler"


def _by(when: Expr, name: str) -> bool:
    """Whether an input, by itself, makes a contact."""
    match when:
        case Is(this):
            return this == name
        case Any(parts):
            return any(_by(part, name) for part in parts)
        case _:
            return False
