"""The line of one core as SVG path data, with its corners rounded a little so that the eye follows them.

It knows points only.
"""

from generator.drawings.geometry import Point
from generator.drawings.svg_templates import number

_RADIUS_PX = 3.0


def path_data(points: tuple[Point, ...]) -> str:
    """Return the `d` of a line through `points`, all of whose parts are level or upright."""
    start, *middle = points
    last = middle.pop()
    parts = [f"M{number(start.x)} {number(start.y)}"]
    before = start
    for corner, after in zip(middle, (*middle[1:], last)[: len(middle)], strict=True):
        radius = min(_RADIUS_PX, _length(before, corner) / 2, _length(corner, after) / 2)
        enter, leave = _step(corner, before, radius), _step(corner, after, radius)
        parts.append(_to(before, enter))
        parts.append(f"Q{number(corner.x)} {number(corner.y)} {number(leave.x)} {number(leave.y)}")
        before = corner
    parts.append(_to(before, last))
    return "".join(parts)


def _length(one: Point, other: Point) -> float:
    return abs(one.x - other.x) + abs(one.y - other.y)


def _step(start: Point, towards: Point, length: float) -> Point:
    """Return the point `length` away from `start` on the level or upright line to `towards`."""
    if start.y == towards.y:
        return Point(start.x + (length if towards.x > start.x else -length), start.y)
    return Point(start.x, start.y + (length if towards.y > start.y else -length))


def _to(start: Point, end: Point) -> str:
    return f"H{number(end.x)}" if start.y == end.y else f"V{number(end.y)}"
