"""What one conductor could be done to a circuit to put a mistake right: move it, exchange two, land one, take out a link.

Proposes only, likeliest first, by what each terminal is for; whether a change cures anything is tried elsewhere.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, Conductor, TerminalPlace
from generator.rules.landings import Landing, Landings
from generator.rules.strays import Stray, strays
from generator.rules.words import device_name, terminal_of, the_conductor, the_device, the_terminal

_LOOPED = ("line", "neutral", "earth")
"""The sorts that cores take on from device to device."""
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
    elsewhere: str = ""
    """The same in words, with the terminal left open to which a core goes; empty where none is moved."""


def edits(circuit: Circuit) -> Iterator[Edit]:
    """Changes that bring a core to the others of its sort: likely ones, each once."""
    yield from _Proposals(circuit).likely()


def every_edit(circuit: Circuit, devices: frozenset[str]) -> Iterator[Edit]:
    """Every move and exchange of cores between nets other than neutral and earth, those of some devices first."""
    yield from _Proposals(circuit).every(devices)


class _Proposals(Landings):
    """Changes to one circuit, by what lands where."""

    def likely(self) -> Iterator[Edit]:
        yield from self._strays_exchanged()
        yield from self._with_their_cable()
        yield from self._beside()
        misfits = [landing for landing in self.landings if self.is_astray(landing)]
        homes = {id(landing): self.homes(landing) for landing in misfits}
        for landing in misfits:
            for there in homes[id(landing)]:
                if (
                    self.group[there] != landing.net
                    and device_name(there) == device_name(landing.here)
                    and self.belongs(landing, self.group[there])
                ):
                    yield self._moved(landing, there)
        for one, other in combinations(misfits, 2):
            if self.exchangeable(one, other) and (
                any(self.group[ref] == other.net for ref in homes[id(one)])
                or any(self.group[ref] == one.net for ref in homes[id(other)])
            ):
                yield self._exchanged(one, other)
        yield from self._missing()
        yield from self._missing_between_boxes()
        yield from self._without_links()

    def every(self, devices: frozenset[str]) -> Iterator[Edit]:
        mine = [landing for landing in self.landings if self.tag(landing) not in ("neutral", "earth")]
        mine.sort(key=lambda landing: device_name(landing.far) not in devices)
        nets = {
            (net, device_name(each.here)): each.here
            for net, landings in self.members.items()
            if any(self.tag(each) not in ("neutral", "earth") for each in landings)
            for each in reversed(landings)
        }
        yield from self._missing(tuple({net: there for (net, _), there in reversed(nets.items())}.values()))
        for landing in mine:
            for (net, device), there in nets.items():
                if net != landing.net and device == device_name(landing.here) and self.belongs(landing, net):
                    yield self._moved(landing, there)
        for one, other in combinations(mine, 2):
            if self.exchangeable(one, other):
                yield self._exchanged(one, other)

    def _moved(self, landing: Landing, there: str, *, returns: bool = False) -> Edit:
        item = landing.conductor
        near = device_name(there) == device_name(landing.here)
        to = f"`{terminal_of(there)}`" if near else the_terminal(self.circuit, there)
        move = f"move {the_conductor(item)} from {the_terminal(self.circuit, landing.here)} to"
        return Edit(
            words=f"{move} {to}",
            elsewhere=f"{move} another terminal of {the_device(self.circuit.device(device_name(there)))}",
            conductors=(item,),
            refs=(landing.far,),
            circuit=self._with(_landed_at(landing, there)),
            returns=returns,
        )

    def _exchanged(self, one: Landing, other: Landing, *, returns: bool = False) -> Edit:
        where = f"the terminals `{terminal_of(one.here)}` and `{terminal_of(other.here)}`"
        if device_name(one.here) != device_name(other.here):
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
                and one.device == device_name(other.here)
                and other.device == device_name(one.here)
            ):
                yield self._exchanged(self._astray_at(one), self._astray_at(other), returns=True)

    def _loops(self, far: str, ref: str) -> bool:
        """Whether a terminal takes line, neutral or earth on from another."""
        return self.tags.get(ref) in _LOOPED and self.tags.get(far) == self.tags[ref]

    def _astray_at(self, stray: Stray) -> Landing:
        return Landing(
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
                likely = [ref for ref in self.homes(landing) if ref in refs]
                by_net = {self.group[ref]: ref for ref in reversed([*likely, *refs])}
                refs = list(dict.fromkeys([*likely, *reversed(by_net.values())]))
            else:
                looped = [ref for ref in refs if full[ref] and self.tags.get(ref) in _LOOPED]
                refs = [*(ref for ref in refs if not full[ref]), *looped]
            yield from (self._moved(landing, ref, returns=True) for ref in refs)

    def _beside(self) -> Iterator[Edit]:
        """A core moved to another terminal of its own device: an empty one, or one where its sort is looped on.

        First where one is needed, and where two cores share one.
        """
        ends = [
            Landing(conductor=item, end=end, here=here, far=far, net=self.group[here])
            for item in self.circuit.conductors
            if not item.is_link
            for end, here, far in (("a", item.a, item.b), ("b", item.b, item.a))
            if device_name(here) not in self.centres
        ]
        full = Counter(each.here for each in ends)
        pairs = [
            (each, place)
            for place in self.circuit.terminals
            if place.device.name not in self.centres
            for each in ends
            if device_name(each.here) == place.device.name
            and (not full[place.ref] or (each.here != place.ref and self._loops(each.far, place.ref)))
        ]
        for each, place in sorted(
            pairs,
            key=lambda pair: (
                full[pair[1].ref] > 0,
                not (pair[1].terminal.needed or pair[1].ref in self.tags),
                full[pair[0].here] == 1,
            ),
        ):
            yield self._moved(each, place.ref)

    def _missing(self, anywhere: tuple[str, ...] = ()) -> Iterator[Edit]:
        """A core landed from each terminal that has none to the others of its sort, of a device that has some.

        So too from one that has some, which only loop on what does not come. With terminals to try instead: those that
        are of no known sort, to each of them.
        """
        landed = {ref for item in self.circuit.conductors for ref in (item.a, item.b)}
        boxes = {device_name(landing.far): device_name(landing.here) for landing in self.landings}
        wired = {device_name(ref) for ref in landed}
        empty = [
            place
            for place in self.circuit.terminals
            if place.ref not in landed
            and place.device.name not in self.centres
            and place.device.name in wired
        ]
        for index, place in enumerate(empty):
            tag = self.tags.get(place.ref, "")
            likely: Sequence[str] = () if tag else anywhere
            if tag and not anywhere:
                likely = self.homes_of(tag, boxes.get(place.device.name, ""))
            alike = [each.ref for each in empty[index + 1 :] if tag and self.tags.get(each.ref) == tag]
            for there in (*likely, *(ref for ref in alike if device_name(ref) != place.device.name)):
                yield self._landed(
                    place, there, f"a core from {the_terminal(self.circuit, place.ref)}, where none is,"
                )
        for place in () if anywhere else self._cut_off():
            for there in self.homes_of(self.tags[place.ref], boxes.get(place.device.name, "")):
                yield self._landed(place, there, f"another core from {the_terminal(self.circuit, place.ref)}")

    def _cut_off(self) -> Iterator[TerminalPlace]:
        """Terminals that loop line, neutral or earth on and get it from no wiring centre and no supply."""
        fed = {self.group[place.ref] for place in self.circuit.terminals if place.device.duty is Duty.SUPPLY}
        landed = {ref for item in self.circuit.conductors for ref in (item.a, item.b)}
        for place in self.circuit.terminals:
            loops = place.ref in landed and self.tags.get(place.ref) in _LOOPED
            if loops and self.group[place.ref] not in fed | self.members.keys():
                yield place

    def _landed(self, place: TerminalPlace, there: str, what: str) -> Edit:
        model = next(item for item in self.circuit.conductors if not item.is_link)
        cable = next(
            (name for name in (place.device.name, device_name(there)) if self._loose(name)), place.device.name
        )
        added = replace(
            model,
            index=len(self.circuit.conductors),
            a=place.ref,
            b=there,
            core=self._unused_core(cable, place.terminal.usual_core),
            cable=cable,
            sleeve="",
        )
        return Edit(
            words=f"land {what} in {the_terminal(self.circuit, there)}",
            conductors=(),
            refs=(place.ref,),
            circuit=replace(self.circuit, conductors=(*self.circuit.conductors, added)),
        )

    def _missing_between_boxes(self) -> Iterator[Edit]:
        """A core between two wiring centres that are joined by others, from each sort of one to the same of the other."""
        models = {frozenset((device_name(item.a), device_name(item.b))): item for item in self.risers}
        for a, b in combinations(self.boxes, 2):
            model = models.get(frozenset((device_name(a), device_name(b))))
            if model is None or self.boxes[a] != self.boxes[b] or self.has_riser(a, b):
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
        """A core for a new conductor: one of the cable that lands nowhere, the usual one first; else any colour."""
        used = self._used(cable)
        loose = sorted(self._loose(cable), key=lambda core: core != usual)
        likely = (*loose, usual, *_PLAIN_CORES, f"{_PLAIN_CORES[0]}9")
        return next(core for core in likely if core and core not in used)

    def _loose(self, cable: str) -> list[str]:
        """The cores of a cable that are recorded and land nowhere."""
        cores = (core for each in self.circuit.cables if each.name == cable for core in each.cores or ())
        used = self._used(cable)
        return [core for core in cores if core not in used]

    def _used(self, cable: str) -> set[str]:
        placed = {item.core for item in self.circuit.conductors if item.cable == cable}
        return placed | {item.core for item in self.circuit.spare if item.cable == cable}

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


def _landed_at(landing: Landing, there: str) -> Conductor:
    item = landing.conductor
    return replace(item, a=there) if landing.end == "a" else replace(item, b=there)
