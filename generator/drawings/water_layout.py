"""Where everything of a water-side drawing stands, in px from its top left corner.

It knows pipes and shapes, nothing of what moves the water.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import accumulate
from typing import Literal

from generator.drawings.sizes import NAME_PX, PLACE_PX
from generator.drawings.text_measure import measure, shorten, wrap
from generator.drawings.water_model import WaterDrawing, WaterLoop, WaterPump, WaterRow, pumped, together

WIDTH_PX = 390.0
ROW_PX = 78.0
FLOW_PX, RETURN_PX = 40.0, 364.0
VALVE_PX = 92.0
_PUMP_PX = 128.0
EMITTER_PX, EMITTER_END_PX = 168.0, 292.0
WORDS_LEFT_PX, WORDS_ROOM_PX = 150.0, WIDTH_PX - 150.0 - 36.0
"""Where the name of a circuit begins, and how far it may reach."""
LINE_PX = 14.0
_MOST_LINES = 4
"""How many lines what is said of a circuit may take below its name."""
_BOX_LEFT, _BOX_WIDTH, _BOX_HEIGHT = 122.0, 152.0, 58.0

On = tuple[str, ...]
Corner = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Pipe:
    """A line of pipe through its corners; `back` for return water."""

    corners: tuple[Corner, ...]
    on_in: On
    back: bool = False


@dataclass(frozen=True, slots=True)
class Arrow:
    """An arrow head on a pipe, shown while water moves that way."""

    x: float
    y: float
    way: Literal["right", "left", "down", "up"]
    on_in: On


@dataclass(frozen=True, slots=True)
class PlacedPump:
    x: float
    y: float
    way: Literal["right", "down", "up"]
    pump: WaterPump
    words_x: float
    words_y: float
    anchor: Literal["start", "middle", "end"]
    id: str


@dataclass(frozen=True, slots=True)
class PlacedValve:
    """A motorised valve: the states in which it is open to the right, and below for the second way of three."""

    x: float
    y: float
    name: str
    on_in: On
    below_in: On | None
    id: str


@dataclass(frozen=True, slots=True)
class PlacedRow:
    row: WaterRow
    x: float
    y: float
    loop: str


@dataclass(frozen=True, slots=True)
class PlacedBox:
    """A source of heat, a header or a bypass."""

    kind: Literal["source", "header", "bypass"]
    x: float
    y: float
    width: float
    height: float
    words: str
    heats: str
    on_in: On
    id: str


@dataclass(slots=True)
class WaterLayout:
    """A whole drawing, placed."""

    height: float = 0.0
    pipes: list[Pipe] = field(default_factory=list)
    arrows: list[Arrow] = field(default_factory=list)
    dots: list[Corner] = field(default_factory=list)
    pumps: list[PlacedPump] = field(default_factory=list)
    valves: list[PlacedValve] = field(default_factory=list)
    rows: list[PlacedRow] = field(default_factory=list)
    boxes: list[PlacedBox] = field(default_factory=list)


def place_water(drawing: WaterDrawing) -> WaterLayout:
    """Place the water side: always 390 px wide, a row of 78 px or a little more a circuit, one loop below the other."""
    out = WaterLayout()
    y = 10.0
    for loop in drawing.loops:
        y = _Loop(out, loop).place(y) + 34
    out.height = y - 8
    return out


@dataclass(frozen=True, slots=True)
class _Station:
    """Something on the way down: a pump on a riser, or what joins both risers."""

    kind: Literal["pump", "header pump", "header", "bypass", "rows"]
    y: float
    moves_in: On
    rows: tuple[WaterRow, ...] = ()
    row_ys: tuple[float, ...] = ()


class _Loop:
    def __init__(self, out: WaterLayout, loop: WaterLoop) -> None:
        self.out = out
        self.loop = loop

    def stations(self, top: float) -> list[_Station]:
        """What stands below the source, from the top down."""
        loop, found = self.loop, list[_Station]()
        y = top + 16.0

        def below(
            kind: Literal["pump", "header pump", "header", "bypass"], moves_in: On, step: float
        ) -> None:
            nonlocal y
            y = max(y + step, top + _BOX_HEIGHT + (28 if kind in ("header", "bypass") else 6))
            found.append(_Station(kind, y, moves_in))

        def group(rows: Sequence[WaterRow]) -> None:
            nonlocal y
            first = _step(rows[0])
            y = max(y + (first if found else 0.0), top + _BOX_HEIGHT + 52 + first - ROW_PX)
            ys = list(accumulate((_step(row) for row in rows[1:]), initial=y))
            moves = together(*(row.moves_in for row in rows))
            found.append(_Station("rows", y, moves, tuple(rows), tuple(ys)))
            y = ys[-1]

        for row in loop.rows:
            if row.gravity:
                group([row])
        if loop.pump is not None:
            below("pump", (), 48 if not found else 46)
        if loop.header:
            below("header", loop.through_in, 50)
        if loop.header_pump is not None:
            below("header pump", (), 44)
        if loop.bypass:
            below("bypass", loop.bypass_in, 46)
        for rows in _sharing(pumped(loop)):
            group(rows)
        return found

    def place(self, top: float) -> float:
        """Place one loop; the y of its lowest point."""
        loop, out = self.loop, self.out
        start = top + 16
        box = PlacedBox(
            "source",
            _BOX_LEFT,
            top,
            _BOX_WIDTH,
            _BOX_HEIGHT,
            loop.source,
            loop.heats.value,
            loop.hot_in,
            loop.id,
        )
        out.boxes.append(box)
        self.pipe([(_BOX_LEFT, start), (FLOW_PX, start)], loop.through_in)
        self.pipe([(RETURN_PX, start), (_BOX_LEFT + _BOX_WIDTH, start)], loop.through_in, back=True)
        stations = self.stations(top)
        y = start
        for index, station in enumerate(stations):
            rest = stations[index:]
            if any(each.kind not in ("pump", "header pump") for each in rest):
                moves = together(*(each.moves_in for each in rest))
                self.pipe([(FLOW_PX, y), (FLOW_PX, station.y)], moves)
                self.pipe([(RETURN_PX, station.y), (RETURN_PX, y)], moves, back=True)
                if index == 0:
                    out.arrows.append(Arrow(RETURN_PX, (y + station.y) / 2, "up", moves))
            y = station.y
            last = index == len(stations) - 1
            self.station(station, last=last)
        bottom = stations[-1].row_ys[-1] if stations and stations[-1].rows else y
        return max(bottom + 24, top + _BOX_HEIGHT)

    def station(self, station: _Station, *, last: bool) -> None:
        loop, out, y = self.loop, self.out, station.y
        if station.kind != "rows" and station.kind not in ("pump", "header pump"):
            out.dots += [(FLOW_PX, y), (RETURN_PX, y)]
        if station.kind == "pump" and loop.pump is not None:
            if loop.pump_on_return:
                self.pump(loop.pump, RETURN_PX, y, "up", "pump")
            else:
                self.pump(loop.pump, FLOW_PX, y, "down", "pump")
        elif station.kind == "header pump" and loop.header_pump is not None:
            self.pump(loop.header_pump, FLOW_PX, y, "down", "header-pump")
        elif station.kind in ("header", "bypass"):
            header = station.kind == "header"
            words = loop.header if header else loop.bypass
            width, height = (120.0, 24.0) if header else (22.0, 14.0)
            middle = (FLOW_PX + RETURN_PX) / 2 if header else 150.0
            self.pipe([(FLOW_PX, y), (middle - width / 2, y)], station.moves_in)
            self.pipe([(middle + width / 2, y), (RETURN_PX, y)], station.moves_in, back=True)
            out.boxes.append(
                PlacedBox(
                    "header" if header else "bypass",
                    middle - width / 2,
                    y - height / 2,
                    width,
                    height,
                    words,
                    "",
                    station.moves_in,
                    f"{loop.id}-{station.kind}",
                )
            )
        else:
            if not last:
                out.dots += [(FLOW_PX, y), (RETURN_PX, y)]
            self.rows(station)

    def pump(
        self,
        pump: WaterPump,
        x: float,
        y: float,
        way: Literal["right", "down", "up"],
        name: str,
        *,
        below: bool = False,
    ) -> None:
        at: Literal["start", "middle", "end"] = "end" if way == "up" else "start"
        words_x = x - 18 if way == "up" else x + 18
        if way == "right":
            at, words_x = "middle", x
        words_y = y + 4 if way != "right" else y + 24 if below else y - 17
        self.out.pumps.append(PlacedPump(x, y, way, pump, words_x, words_y, at, f"{self.loop.id}-{name}"))

    def rows(self, station: _Station) -> None:
        """The circuits that leave the riser together: one, or those that share a valve."""
        loop, out = self.loop, self.out
        first = station.rows[0]
        for number, row in enumerate(station.rows):
            y = station.row_ys[number]
            if number:
                above = station.row_ys[number - 1]
                states = together(*(each.moves_in for each in station.rows[number:]))
                self.pipe([(VALVE_PX, above), (VALVE_PX, y), (EMITTER_PX, y)], states)
                out.arrows.append(Arrow(EMITTER_PX - 22, y, "right", row.on_in))
                out.arrows.append(Arrow(EMITTER_PX - 22, y, "left", row.back_in))
                states = together(*(each.moves_in for each in station.rows[number:]))
                self.pipe([(RETURN_PX, y), (RETURN_PX, above)], states, back=True)
            else:
                self.branch(row, y, station.moves_in, shared=len(station.rows) > 1)
            self.pipe([(EMITTER_END_PX, y), (RETURN_PX, y)], row.moves_in, back=True)
            out.arrows.append(Arrow(RETURN_PX - 16, y, "right", row.on_in))
            out.arrows.append(Arrow(RETURN_PX - 16, y, "left", row.back_in))
            out.rows.append(PlacedRow(row, EMITTER_PX, y, loop.id))
        if first.valve is not None:
            below = next(
                (row.valve for row in station.rows if row.valve and row.valve.way != first.valve.way), None
            )
            # One valve before several circuits alike stands left of where they part.
            aside = 26.0 if len(station.rows) > 1 and below is None else 0.0
            out.valves.append(
                PlacedValve(
                    VALVE_PX - aside,
                    station.y,
                    first.valve.name,
                    first.valve.on_in,
                    below.on_in if below is not None else None,
                    f"{loop.id}-{first.id}-valve",
                )
            )
            if aside:
                out.dots.append((VALVE_PX, station.y))

    def branch(self, row: WaterRow, y: float, all_moves: On, *, shared: bool) -> None:
        """The pipe from the riser to the emitter of one circuit, with what stands in it."""
        if shared:
            self.pipe([(FLOW_PX, y), (VALVE_PX, y)], all_moves)
            self.pipe([(VALVE_PX, y), (EMITTER_PX, y)], row.moves_in)
        else:
            self.pipe([(FLOW_PX, y), (EMITTER_PX, y)], row.moves_in)
        self.out.arrows.append(Arrow(FLOW_PX + 22, y, "right", row.on_in))
        self.out.arrows.append(Arrow(FLOW_PX + 22, y, "left", row.back_in))
        if row.pump is not None:
            at = _PUMP_PX if row.valve is not None else VALVE_PX + 12
            self.pump(row.pump, at, y, "right", f"{row.id}-pump", below=row.valve is not None)

    def pipe(self, corners: list[Corner], on_in: On, *, back: bool = False) -> None:
        self.out.pipes.append(Pipe(tuple(corners), on_in, back))


def words_of(row: WaterRow) -> tuple[str, str, tuple[str, ...]]:
    """A circuit's name, what stands beside it, and what stands on lines below it because both have no room."""
    name = shorten(row.name, WORDS_ROOM_PX, NAME_PX, bold=True)
    beside = measure(f" {row.detail}", PLACE_PX) + measure(name, NAME_PX, bold=True) + 4
    if not row.detail or beside <= WORDS_ROOM_PX:
        return name, row.detail, ()
    return name, "", wrap(row.detail, WORDS_ROOM_PX, PLACE_PX, lines=_MOST_LINES)


def _step(row: WaterRow) -> float:
    """From the row above to this one."""
    return ROW_PX + LINE_PX * len(words_of(row)[2])


def _sharing(rows: Sequence[WaterRow]) -> list[list[WaterRow]]:
    """Circuits that share a valve stand together, at the place of the first."""
    groups: dict[str, list[WaterRow]] = {}
    for row in rows:
        key = f"valve {row.valve.id}" if row.valve is not None else f"row {row.id}"
        groups.setdefault(key, []).append(row)
    return list(groups.values())
