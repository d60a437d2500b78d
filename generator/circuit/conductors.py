"""Reads the wiring section of a record into conductors and links.

Ends that do not exist and cores written twice become findings; what names them is left out.
"""

from collections.abc import Sequence

from generator.catalogue.kind import Duty
from generator.circuit.model import Certainty, Conductor, How
from generator.circuit.names import Names
from generator.record.places import Path
from generator.record.wiring import Direct, Landing, Sure

_LESS_SURE = (How.TESTED, How.SEEN, How.ASSUMED)


def certainty(sure: Sure) -> Certainty:
    """The certainty that a record states."""
    return Certainty(how=How(sure.how), on=sure.on, by=sure.by)


class Conductors:
    """Reads the wiring into conductors, reporting ends that do not exist."""

    def __init__(self, names: Names) -> None:
        self.names = names
        self.made: list[Conductor] = []
        self.seen: dict[tuple[str, str], Path] = {}

    def all(self) -> tuple[Conductor, ...]:
        """Every conductor that has two existing ends, in the order written."""
        wiring = self.names.record.wiring
        for centre, terminals in wiring.centres.items():
            base: Path = ("wiring", "centres", centre)
            if not self._is_centre(centre, base):
                continue
            for terminal, landings in terminals.items():
                known = self.names.end(f"{centre}.{terminal}", (*base, terminal), key=True)
                for index, landing in enumerate(landings):
                    self._landing(f"{centre}.{terminal}", landing, (*base, terminal, index), known=known)
        for index, direct in enumerate(wiring.direct):
            self._direct(direct, ("wiring", "direct", index))
        for index, link in enumerate(wiring.links):
            path: Path = ("wiring", "links", index)
            ends = [self.names.end(end, (*path, "ends", at)) for at, end in enumerate(link.ends)]
            if all(ends) and self._in_one_box(link.ends, path):
                for first, second in zip(link.ends, link.ends[1:], strict=False):
                    self.add(first, second, "", "", None, link.sure, path)
        for index, spare in enumerate(wiring.spare):
            self.once(spare.cable, spare.core, ("wiring", "spare", index))
        return tuple(self.made)

    def _in_one_box(self, ends: Sequence[str], path: Path) -> bool:
        """Whether a link joins terminals of one device; what goes from one to another is a conductor with a core."""
        first = ends[0].split(".", 1)[0]
        other = next((end for end in ends if end.split(".", 1)[0] != first), None)
        if other is None:
            return True
        self.names.report(
            "link-between-devices",
            path,
            f"a link joins terminals of one box or device, and `{ends[0]}` and `{other}` are of two",
            "Write it under `direct`, with its core and cable.",
        )
        return False

    def _is_centre(self, name: str, path: Path) -> bool:
        if not self.names.device(name, path, key=True):
            return False
        device = self.names.devices[name]
        if device.duty is Duty.CENTRE:
            return True
        self.names.report(
            "not-a-wiring-centre",
            path,
            f"`{name}` is not a wiring centre but a {device.kind.words}",
            "List the conductor at the wiring centre, or under `direct`.",
            key=True,
        )
        return False

    def _landing(self, here: str, landing: Landing, path: Path, *, known: bool) -> None:
        far = self.names.end(landing.to, (*path, "to"))
        cable = landing.cable or landing.to.split(".", 1)[0]
        if self.once(cable, landing.core, path) and known and far:
            self.add(landing.to, here, landing.core, cable, landing.sleeve, landing.sure, path)

    def _direct(self, direct: Direct, path: Path) -> None:
        ends = [self.names.end(end, (*path, "ends", at)) for at, end in enumerate(direct.ends)]
        cable = direct.cable or direct.ends[0].split(".", 1)[0]
        if self.once(cable, direct.core, path) and all(ends):
            self.add(direct.ends[0], direct.ends[1], direct.core, cable, direct.sleeve, direct.sure, path)

    def add(
        self, a: str, b: str, core: str, cable: str, sleeve: str | None, sure: Sure | None, path: Path
    ) -> None:
        if a == b:
            self.names.report(
                "both-ends-alike",
                path,
                f"both ends of this conductor are the terminal `{a}`",
                "Correct one end.",
            )
            return
        record = self.names.record
        written = record.cables.get(cable)
        stated = sure or (written.sure if written else None)
        self.made.append(
            Conductor(
                index=len(self.made),
                a=a,
                b=b,
                core=core,
                cable=cable,
                sleeve=sleeve or "",
                certainty=certainty(stated or self._inherited(a)),
                path=path,
            )
        )

    def _inherited(self, end: str) -> Sure:
        """How sure we are of a conductor that does not say, nor its cable: the record, or less by its device.

        A device that was seen says nothing of its wiring, which may lie behind a cover that nobody took off.
        """
        device = self.names.record.devices.get(end.split(".", 1)[0])
        stated = [self.names.record.sure, *([device.sure] if device and device.sure else [])]
        return max(stated, key=lambda sure: _LESS_SURE.index(How(sure.how)))

    def once(self, cable: str, core: str, path: Path) -> bool:
        before = self.seen.get((cable, core))
        if before is None:
            self.seen[cable, core] = path
            return True
        first = self.names.places.value(before)
        self.names.report(
            "core-written-twice",
            path,
            f"core {core} of cable `{cable}` is already written at {first.file}:{first.line}; "
            "a core has one place only",
            "Write each conductor once. Cores of one colour in one cable are told apart by a number, as in BK1 BK2. "
            "If this is another cable, give its name with `cable`.",
        )
        return False
