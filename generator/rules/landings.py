"""What lands in the terminals of wiring centres, of which sort it is, and where others of its sort land.

Knows circuits and sorts; what could be changed is not its business.
"""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from statistics import mode

from generator.catalogue.kind import Duty
from generator.circuit.model import Circuit, Conductor
from generator.rules.sorts import sorts
from generator.rules.words import device_name
from generator.states.network import fold


@dataclass(frozen=True, slots=True, kw_only=True)
class Landing:
    """A core at a terminal of a wiring centre: ``end`` is which end of it, ``far`` where its other end is."""

    conductor: Conductor
    end: str
    here: str
    far: str
    net: int


class Landings:
    """All of them in one circuit, and the sort of each.

    Attributes:
        circuit: that circuit.
        group: the net of each terminal, by number.
        tags: the sort of each terminal of a device.
        centres: the names of the wiring centres.
        risers: conductors between two of them.
        landings: in the order of the record.
        members: those in each net.
        boxes: the sort of each terminal of a wiring centre, by most of what lands there.
    """

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self.group = fold(circuit).group
        self.tags = sorts(circuit)
        self.centres = {device.name for device in circuit.with_duty(Duty.CENTRE)}
        self.risers = [item for item in circuit.conductors if not item.is_link and self._is_riser(item)]
        self.landings = list(self._landings())
        self.members: dict[int, list[Landing]] = {}
        for landing in self.landings:
            self.members.setdefault(landing.net, []).append(landing)
        self.boxes = self._sorts_in_boxes()

    def _landings(self) -> Iterator[Landing]:
        for item in self.circuit.conductors:
            if item.is_link:
                continue
            for end, here, far in (("a", item.a, item.b), ("b", item.b, item.a)):
                if device_name(here) in self.centres:
                    yield Landing(conductor=item, end=end, here=here, far=far, net=self.group[here])

    def _is_riser(self, item: Conductor) -> bool:
        return {device_name(item.a), device_name(item.b)} <= self.centres and device_name(
            item.a
        ) != device_name(item.b)

    def exchangeable(self, one: Landing, other: Landing) -> bool:
        """Whether two landings are on different nets of one box: a core is never taken off the way of its cable."""
        return one.net != other.net and together(one, other)

    def _sorts_in_boxes(self) -> dict[str, str]:
        """The sort that most cores have of those in a terminal of a wiring centre, cores to other centres left out."""
        found: dict[str, list[str]] = {}
        for landing in self.landings:
            tag = self.tags.get(landing.far, "")
            if tag:
                found.setdefault(landing.here, []).append(tag)
        return {ref: mode(tags) for ref, tags in found.items()}

    def tag(self, landing: Landing) -> str:
        """Its sort: that of the terminal at its other end, or of most of what is there in another wiring centre."""
        return self.tags.get(landing.far, "") or self.boxes.get(landing.far, "")

    def has_riser(self, a: str, b: str) -> bool:
        """Whether two terminals are joined, or the sort of both has a core between their boxes."""
        joined = [{self.boxes.get(item.a), self.boxes.get(item.b)} for item in self.risers]
        return self.group[a] == self.group[b] or {self.boxes[a]} in joined

    def is_astray(self, landing: Landing) -> bool:
        """Whether fewer of a landing's sort are beside it than it has elsewhere, or others outnumber it."""
        tag = self.tag(landing)
        beside = [
            self.tag(each)
            for each in self.members[landing.net]
            if each is not landing and (landing.conductor not in self.risers or together(each, landing))
        ]
        if not beside or not tag:
            return True
        alike = beside.count(tag)
        elsewhere = max(
            (
                sum(self.tag(each) == tag for each in landings)
                for net, landings in self.members.items()
                if net != landing.net
            ),
            default=0,
        )
        return alike < max(elsewhere, 1) or alike < len(beside) - alike

    def belongs(self, landing: Landing, net: int) -> bool:
        """Whether a net has another of a landing's sort, or nothing whose sort is known: no output to the line, say."""
        tag = self.tag(landing)
        others = {self.tag(each) for each in self.members[net] if each is not landing} - {""}
        return not tag or not others or tag in others

    def homes(self, landing: Landing) -> list[str]:
        """Where its own sort lands, most of them first; then the terminals where a core is alone."""
        return self.homes_of(self.tag(landing), device_name(landing.here), but=landing)

    def homes_of(self, tag: str, box: str, but: Landing | None = None) -> list[str]:
        """Where a sort lands, once in each net of each box: those of one box first, and most of them first."""
        found: dict[tuple[bool, int, str], list[str]] = {}
        for each in self.landings:
            if each is not but and tag and self.tag(each) == tag:
                at = device_name(each.here)
                found.setdefault((at != box, each.net, at), []).append(each.here)
        full = Counter(each.here for each in self.landings if each is not but)
        likely = sorted(found, key=lambda key: (key[0], -len(found[key])))
        homes = [min(found[key], key=lambda ref: full[ref]) for key in likely]
        alone = [landings[0].here for landings in self.members.values() if len(landings) == 1]
        return list(dict.fromkeys([*homes, *(ref for ref in alone if but is None or ref != but.here)]))


def together(one: Landing, other: Landing) -> bool:
    """Whether two landings are in one box."""
    return device_name(one.here) == device_name(other.here)
