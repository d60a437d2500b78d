"""What a water-side drawing is made from: sources of heat, pumps, circuits with what shuts them and what they feed.

It holds words, shapes and states as plain data. It knows nothing of how water flows, and nothing electrical.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum


class Heats(StrEnum):
    """What is drawn for a source of heat."""

    PLAIN = "plain"
    BURNER = "burner"
    ELEMENT = "element"
    COMPRESSOR = "compressor"
    PLATES = "plates"
    SUN = "sun"
    VESSEL = "vessel"


class Feeds(StrEnum):
    """What is drawn for what a circuit feeds."""

    RADIATORS = "radiators"
    FLOOR = "floor"
    RAIL = "rail"
    COIL = "coil"
    PLATES = "plates"


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterPump:
    """A pump with its name, and the states in which it runs."""

    name: str
    on_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterValve:
    """A motorised valve: `id` is the same for the circuits that share it, `way` where they share a port of it too.

    It is open to this circuit in `on_in`.
    """

    id: str
    way: str
    name: str
    on_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterRow:
    """One circuit. Water moves forward in `on_in` and backward in `back_in`; `note_in` marks states with `note`."""

    id: str
    name: str
    detail: str
    feeds: Feeds
    valve: WaterValve | None = None
    pump: WaterPump | None = None
    gravity: bool = False
    check_valve: bool = False
    blending: bool = False
    on_in: tuple[str, ...] = ()
    back_in: tuple[str, ...] = ()
    note: str = ""
    note_in: tuple[str, ...] = ()

    @property
    def moves_in(self) -> tuple[str, ...]:
        """The states in which water moves in it either way."""
        return (*self.on_in, *(state for state in self.back_in if state not in self.on_in))


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterLoop:
    """One source with its pump and its circuits. Circuits by gravity leave before the pump.

    `through_in` are the states in which water moves through the source; `header` names a vessel between flow and
    return, `bypass` the bypass, both empty for none.
    """

    id: str
    source: str
    heats: Heats
    rows: tuple[WaterRow, ...]
    hot_in: tuple[str, ...] = ()
    through_in: tuple[str, ...] = ()
    pump: WaterPump | None = None
    pump_on_return: bool = False
    header: str = ""
    header_pump: WaterPump | None = None
    bypass: str = ""
    bypass_in: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class WaterDrawing:
    """The whole water side. `prefix` begins every id; `states` are those that the page can choose."""

    prefix: str
    title: str
    loops: tuple[WaterLoop, ...]
    description: str = ""
    states: tuple[str, ...] = ()

    def every_on_in(self) -> Iterator[tuple[str, ...]]:
        """Yield every set of states that something is on in; shared pipes have unions of these."""
        for loop in self.loops:
            yield from (loop.hot_in, loop.through_in, loop.bypass_in)
            yield from (pump.on_in for pump in (loop.pump, loop.header_pump) if pump is not None)
            for row in loop.rows:
                yield from (row.on_in, row.back_in, row.moves_in, row.note_in)
                if row.valve is not None:
                    yield row.valve.on_in
                if row.pump is not None:
                    yield row.pump.on_in


def pumped(loop: WaterLoop) -> list[WaterRow]:
    """The circuits after the pump."""
    return [row for row in loop.rows if not row.gravity]


def together(*sets: tuple[str, ...]) -> tuple[str, ...]:
    """The states of any of the sets, in order of first mention."""
    return tuple(dict.fromkeys(state for found in sets for state in found))
