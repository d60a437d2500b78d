"""What a ladder is made from: rungs of contacts in series and in parallel, and the loads at their ends.

It holds words, shapes and joins as plain data. It knows nothing electrical.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


class Sign(StrEnum):
    """What is drawn at a contact to tell what moves it."""

    CLOCK = "clock"
    HEAT = "heat"
    CAM = "cam"
    COIL = "coil"
    NONE = "none"


class Shape(StrEnum):
    """What is drawn for a load."""

    MOTOR = "motor"
    BOX = "box"
    COIL = "coil"
    LAMP = "lamp"
    HEATER = "heater"


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint:
    """A terminal on the wire: its letters in a circle. `live_in` is of the wire from here on."""

    text: str
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Blade:
    """A contact: `breaks` for one that is made at rest. `on_in` are the states in which it is made.

    `live_in` is of the wire after it.
    """

    id: str
    name: str
    detail: str
    sign: Sign
    breaks: bool = False
    on_in: tuple[str, ...] = ()
    live_in: tuple[str, ...] = ()

    @property
    def lit_in(self) -> tuple[str, ...]:
        """The states in which the blade itself is live: made, with a live wire after it."""
        return tuple(state for state in self.on_in if state in self.live_in)


@dataclass(frozen=True, slots=True, kw_only=True)
class Parallel:
    """Ways beside each other; each is a series, empty for a plain wire."""

    ways: tuple["Series", ...]
    live_in: tuple[str, ...] = ()


Element = Joint | Blade | Parallel
Series = tuple[Element, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class EndLoad:
    """A load at the end of a rung; `back` is the letters of the terminal that it returns to, empty for none."""

    id: str
    name: str
    detail: str
    shape: Shape
    back: str = ""
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rung:
    """One rung from the left rail: `first_live_in` is of its first wire. `pin` labels its end at a block."""

    id: str
    series: Series
    loads: tuple[EndLoad, ...]
    first_live_in: tuple[str, ...] = ()
    pin: str = ""
    end_live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A device with a mechanism of its own that several rungs end at, drawn as one box; each rung has its pin."""

    id: str
    name: str
    rungs: tuple[Rung, ...]
    back: str = ""
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Rails:
    """Rungs between one pair of rails. `words` stand over them; empty for the first pair."""

    left: str
    right: str
    items: tuple[Rung | Block, ...]
    words: str = ""
    live_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """A whole ladder. `prefix` begins every id; `states` are those that the page can choose."""

    prefix: str
    title: str
    rails: tuple[Rails, ...]
    description: str = ""
    states: tuple[str, ...] = ()

    def every_live_in(self) -> Iterator[tuple[str, ...]]:
        """Yield what each part says it is live in, in the order of the drawing."""
        for rails in self.rails:
            yield rails.live_in
            for rung in _rungs(rails):
                yield rung.first_live_in
                yield rung.end_live_in
                yield from (part.live_in for part in elements(rung.series))
                yield from (part.lit_in for part in elements(rung.series) if isinstance(part, Blade))
                yield from (load.live_in for load in rung.loads)
            yield from (item.live_in for item in rails.items if isinstance(item, Block))

    def every_on_in(self) -> Iterator[tuple[str, ...]]:
        """Yield the states in which each contact is made, in the order of the drawing."""
        for rails in self.rails:
            for rung in _rungs(rails):
                yield from (part.on_in for part in elements(rung.series) if isinstance(part, Blade))


def _rungs(rails: Rails) -> Iterator[Rung]:
    for item in rails.items:
        if isinstance(item, Rung):
            yield item
        else:
            yield from item.rungs


def elements(series: Series) -> Iterator[Element]:
    """Every part of a series, those of parallel ways included, from left to right and top to bottom."""
    for part in series:
        yield part
        if isinstance(part, Parallel):
            for way in part.ways:
                yield from elements(way)
