"""Cores that end where no other core of their cable does: the cores of one cable go between the same two places.

Knows circuits only; whether such a core is a mistake is tried elsewhere.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import mode

from generator.circuit.model import Circuit, Conductor
from generator.rules.words import device_name


@dataclass(frozen=True, slots=True, kw_only=True)
class Stray:
    """A core, which of its ends is astray (``a`` or ``b``), and the device at which the others of its cable end."""

    conductor: Conductor
    end: str
    device: str

    @property
    def here(self) -> str:
        """The terminal in which the end is."""
        return self.conductor.a if self.end == "a" else self.conductor.b

    @property
    def far(self) -> str:
        """The terminal of the other end."""
        return self.conductor.b if self.end == "a" else self.conductor.a


def strays(circuit: Circuit) -> Iterator[Stray]:
    """Every core with one end away from where most other cores of its cable have theirs, in the order of the record."""
    cables: dict[str, list[Conductor]] = {}
    for item in circuit.conductors:
        if not item.is_link:
            cables.setdefault(item.cable, []).append(item)
    for item in circuit.conductors:
        usual = _usual([each for each in cables.get(item.cable, ()) if each is not item]) or _both(
            cables.get(item.cable, ())
        )
        if usual is None or item.is_link:
            continue
        ends = (device_name(item.a), device_name(item.b))
        if frozenset(ends) == usual:
            continue
        for end, other in (("a", ends[1]), ("b", ends[0])):
            wanted = usual - {other}
            if other in usual and len(wanted) == 1:
                yield Stray(conductor=item, end=end, device=next(iter(wanted)))


def _usual(mates: Sequence[Conductor]) -> frozenset[str] | None:
    """The two devices between which most of the cores go; None where none goes from one to another."""
    pairs = [pair for pair in map(_ends, mates) if len(pair) > 1]
    return mode(pairs) if pairs else None


def _both(cores: Sequence[Conductor]) -> frozenset[str] | None:
    """The two devices at which cores end of which none goes from one to the other; None where there are not two."""
    devices = frozenset().union(*map(_ends, cores))
    return devices if len(devices) == 2 else None


def _ends(item: Conductor) -> frozenset[str]:
    return frozenset((device_name(item.a), device_name(item.b)))
