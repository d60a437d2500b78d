"""What one conductor could be done to a circuit to put a mistake right: move it, exchange two, land one, take out a link.

Proposes only, likeliest first, by what each terminal is for; whether a change cures anything is tried elsewhere.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, Conductor
from generator.rules.sorts import sorts
from generator.rules.strays import Stray, strays
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
    returns: bool = False
    """Whether cores come back to the way of their cables: that they had left it shows without any solution."""


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
        self.tags = sorts(circuit)
        self.centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
        self.risers = [item for item in circuit.conductors if not item.is_link and self._is_riser(item)]
        self.landings = list(self._landings())
        self.members: dict[int, list[_Landing]] = {}
        for landing in self.landings:
            self.members.setdefault(landing.net, []).append(landing)
        self.boxes = self._sorts_in_boxes()

    def likely(self) -> Iterator[Edit]:
        yield from self._strays_exchanged()
        yield from self._with_their_cable()
        yield from self._beside()
        misfits = [landing for landing in self.landings if self._astray(landing)]
        homes = {id(landing): self._homes(landing) for landing in misfits}
        for landing in misfits:
            for there in homes[id(landing)]:
                if (
                    self.group[there] != landing.net
                    and _device(there) == _device(landing.here)
                    and self._belongs(landing, self.group[there])
                ):
                    yield self._moved(landing, there)
        for one, other in combinations(misfits, 2):
            if self._exchangeable(one, other) and (
                any(self.group[ref] == other.net for ref in homes[id(one)])
                or any(self.group[ref] == one.net for ref in homes[id(other)])
            ):
                yield self._exchanged(one, other)
        yield from self._missing()
        yield from self._missing_between_boxes()
        yield from self._without_links()

    def every(self, devices: frozenset[str]) -> Iterator[Edit]:
        mine = [landing for landing in self.landings if self._tag(landing) not in ("neutral", "earth")]
        mine.sort(key=lambda landing: _device(landing.far) not in devices)
        nets = {
            (net, _device(each.here)): each.here
            for net, landings in self.members.items()
            if any(self._tag(each) not in ("neutral", "earth") for each in landings)
            for each in reversed(landings)
        }
        yield from self._missing(tuple({net: there for (net, _), there in reversed(nets.items())}.values()))
        for landing in mine:
            for (net, device), there in nets.items():
                if net != landing.net and device == _device(landing.here) and self._belongs(landing, net):
                    yield self._moved(landing, there)
        for one, other in combinations(mine, 2):
            if self._exchangeable(one, other):
                yield self._exchanged(one, other)

    def _landings(self) -> Iterator[_Landing]:
        for item in self.circuit.conductors:
            if item.is_link:
                continue
            for end, here, far in (("a", item.a, item.b), ("b", item.b, item.a)):
                if _device(here) in self.centres:
                    yield _Landing(conductor=item, end=end, here=here, far=far, net=self.group[here])

    def _is_riser(self, item: Conductor) -> bool:
        return {_device(item.a), _device(item.b)} <= self.centres and _device(item.a) != _device(item.b)

    def _exchangeable(self, one: _Landing, other: _Landing) -> bool:
        """Whether two landings are on different nets of one box: a core is never taken off the way of its cable."""
        return one.net != other.net and _together(one, other)

    def _sorts_in_boxes(self) -> dict[str, str]:
        """The sort that most cores have of those in a terminal of a wiring centre, cores to other centres left out."""
        found: dict[str, Counter[str]] = {}
        for landing in self.landings:
            tag = self.tags.get(landing.far, "")
            if tag:
                found.setdefault(landing.here, Counter())[tag] += 1
        return {ref: counts.most_common(1)[0][0] for ref, counts in found.items()}

    def _tag(self, landing: _Landing) -> str:
        return self.tags.get(landing.far, "") or self.boxes.get(landing.far, "")

    def _astray(self, landing: _Landing) -> bool:
        """Whether fewer of a landing's sort are beside it than it has elsewhere, or others outnumber it."""
        tag = self._tag(landing)
        beside = [
            self._tag(each)
            for each in self.members[landing.net]
            if each is not landing and (landing.conductor not in self.risers or _together(each, landing))
        ]
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

    def _moved(self, landing: _Landing, there: str, *, returns: bool = False) -> Edit:
        item = landing.conductor
        near = _device(there) == _device(landing.here)
        to = f"`{_terminal(there)}`" if near else the_terminal(self.circuit, there)
        return Edit(
            words=f"move {the_conductor(item)} from {the_terminal(self.circuit, landing.here)} to {to}",
            conductors=(item,),
            refs=(landing.far,),
            circuit=self._with(_landed_at(landing, there)),
            returns=returns,
        )

    def _exchanged(self, one: _Landing, other: _Landing, *, returns: bool = False) -> Edit:
        where = f"the terminals `{_terminal(one.here)}` and `{_terminal(other.here)}`"
        if _device(one.here) != _device(other.here):
            where = f"{the_terminal(self.circuit, one.here)} and {the_terminal(self.circuit, other.here)}"
        return Edit(
            words=f"exchange {the_conductor(one.conductor)} and {the_conductor(other.conductor)} in {where}",
            conductors=(one.conductor, other.conductor),
            refs=(one.far, other.far),
            circuit=self._with(_landed_at(one, other.here), _landed_at(other, one.here)),
            returns=returns,
        )

    def _strays_exchanged(self) -> Iterator[Edit]:
        """Two cores that left the way of their cables, each for the device at which the other belongs."""
        for one, other in combinations(strays(self.circuit), 2):
            if (
                one.conductor is not other.conductor
                and one.device == _device(other.here)
                and other.device == _device(one.here)
            ):
                yield self._exchanged(self._astray_at(one), self._astray_at(other), returns=True)

    def _astray_at(self, stray: Stray) -> _Landing:
        return _Landing(
            conductor=stray.conductor,
            end=stray.end,
            here=stray.here,
            far=stray.far,
            net=self.group[stray.here],
        )

    def _with_their_cable(self) -> Iterator[Edit]:
        """A core that left the way of its cable, moved back: to a terminal of the device, or to each net of the box."""
        full = Counter(ref for item in self.circuit.conductors for ref in (item.a, item.b))
        for stray in strays(self.circuit):
            landing = self._astray_at(stray)
            refs = [place.ref for place in self.circuit.terminals if place.device.name == stray.device]
            if stray.device in self.centres:
                likely = [ref for ref in self._homes(landing) if ref in refs]
                by_net = {self.group[ref]: ref for ref in reversed([*likely, *refs])}
                refs = list(dict.fromkeys([*likely, *reversed(by_net.values())]))
            else:
                looped = [
                    ref for ref in refs if full[ref] and self.tags.get(ref) in ("line", "neutral", "earth")
                ]
                refs = [*(ref for ref in refs if not full[ref]), *looped]
            yield from (self._moved(landing, ref, returns=True) for ref in refs)

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

    def _missing_between_boxes(self) -> Iterator[Edit]:
        """A core between two wiring centres that are joined by others, from each sort of one to the same of the other."""
        models = {frozenset((_device(item.a), _device(item.b))): item for item in self.risers}
        for a, b in combinations(self.boxes, 2):
            model = models.get(frozenset((_device(a), _device(b))))
            if model is None or self.boxes[a] != self.boxes[b] or self.group[a] == self.group[b]:
                continue
            core, sleeve = {"earth": ("GNYE", ""), "neutral": ("", "BU")}.get(self.boxes[a], ("", "BN"))
            core = self._unused_core(model.cable, core)
            added = replace(model, index=len(self.circuit.conductors), a=a, b=b, core=core, sleeve=sleeve)
            yield Edit(
                words=f"land a core of cable `{model.cable}` from {the_terminal(self.circuit, a)} in "
                f"{the_terminal(self.circuit, b)}",
                conductors=(),
                refs=(a, b),
                circuit=replace(self.circuit, conductors=(*self.circuit.conductors, added)),
            )

    def _unused_core(self, cable: str, usual: str) -> str:
        """A core that the cable can have besides those recorded: the usual one, one that lands nowhere, or any colour."""
        used = {item.core for item in self.circuit.conductors if item.cable == cable}
        used |= {item.core for item in self.circuit.spare if item.cable == cable}
        loose = [core for each in self.circuit.cables if each.name == cable for core in each.cores or ()]
        likely = (usual, *loose, *_PLAIN_CORES, f"{_PLAIN_CORES[0]}9")
        return next(core for core in likely if core and core not in used)

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


def _together(one: _Landing, other: _Landing) -> bool:
    """Whether two landings are in one box."""
    return _device(one.here) == _device(other.here)


def _landed_at(landing: _Landing, there: str) -> Conductor:
    item = landing.conductor
    return replace(item, a=there) if landing.end == "a" else replace(item, b=there)


def _device(ref: str) -> str:
    return ref.split(".", 1)[0]


def _terminal(ref: str) -> str:
    return ref.split(".", 1)[1]
