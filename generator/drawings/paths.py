"""The line of one core as SVG path data, with its corners rounded a little so that the eye follows them.

It knows points only. A line is written in two parts: its uprights with their corners, painted below all else, and its
level parts, painted over the uprights that they cross.
"""

from dataclasses import dataclass

from generator.drawings.geometry import Point
from generator.drawings.svg_templates import number

_RADIUS_PX = 3.0

# The uprights reach this far under the level parts, so that no seam shows between them.
_OVERLAP_PX = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class LinePaths:
    """Path data of the whole line, of its uprights (empty if it has none) and of its level parts."""

    whole: str
    upright: str
    level: str


def write_paths(points: tuple[Point, ...]) -> LinePaths:
    """Return the paths of a line that starts and ends level, and is level and upright in turn."""
    first, last = points[0], points[-1]
    whole = [_start(first)]
    level = [_start(first)]
    upright: list[str] = []
    corners = points[1:-1]
    for index, corner in enumerate(corners):
        before, after = points[index], points[index + 2]
        radius = min(_RADIUS_PX, _length(before, corner) / 2, _length(corner, after) / 2)
        enter, leave = _step(corner, before, radius), _step(corner, after, radius)
        bend = f"Q{number(corner.x)} {number(corner.y)} {number(leave.x)} {number(leave.y)}"
        whole += [_to(before, enter), bend]
        if before.y == corner.y:
            level.append(_to(before, enter))
            upright += [_start(_step(corner, before, radius + _OVERLAP_PX)), _to(before, enter), bend]
        else:
            upright += [_to(before, enter), bend, _to(corner, _step(corner, after, radius + _OVERLAP_PX))]
            level.append(_start(leave))
    end = _to(points[-2], last)
    return LinePaths(whole="".join([*whole, end]), upright="".join(upright), level="".join([*level, end]))


def _start(point: Point) -> str:
    return f"M{number(point.x)} {number(point.y)}"


def _length(one: Point, other: Point) -> float:
    return abs(one.x - other.x) + abs(one.y - other.y)


def _step(start: Point, towards: Point, length: float) -> Point:
    """Return the point `length` away from `start` on the level or upright line to `towards`."""
    if start.y == towards.y:
        return Point(start.x + (length if towards.x > start.x else -length), start.y)
    return Point(start.x, start.y + (length if towards.y > start.y else -length))


def _to(start: Point, end: Point) -> str:
    return f"H{number(end.x)}" if start.y == end.y else f"V{number(end.y)}"
