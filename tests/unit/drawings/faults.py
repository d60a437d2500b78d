"""What is wrong with a placed terminal drawing: everything by which it could be misread, in words.

Common practice, no source: the distances are our own.
"""

from collections.abc import Iterator
from itertools import combinations

from generator.drawings.geometry import Layout, Rect
from tests.unit.drawings.sweep import cover, overlap, passes_through, rectangles

LEAST_PX = 6.5
"""The least distance between the middles of two cores anywhere; a core is 4.6 px wide."""


def geometry_faults(layout: Layout) -> list[str]:
    """Everything that is wrong; empty for a drawing that can be read."""
    return [
        *(f"{one} and {other} come close" for one, other in too_close(layout)),
        *_through(layout),
        *label_faults(layout),
        *_overlaps(layout),
        *_wrong_ends(layout),
        *_off_the_sheet(layout),
    ]


def too_close(layout: Layout) -> list[tuple[str, str]]:
    """Pairs of cores that come closer than may be without crossing; where they cross is no fault."""
    segments = [
        (cover(start, end), route.core.id) for route in layout.routes for start, end in route.segments()
    ]
    return [
        (core, other_core)
        for (one, core), (other, other_core) in combinations(segments, 2)
        if core != other_core and _distance(one, other) < LEAST_PX and not _cross(one, other)
    ]


def _distance(one: Rect, other: Rect) -> float:
    across = max(one.x - other.right, other.x - one.right, 0)
    down = max(one.y - other.bottom, other.y - one.bottom, 0)
    return max(across, down)


def _cross(one: Rect, other: Rect) -> bool:
    """Tell whether two segments cross well inside both, so that neither looks as if it ended on the other."""
    level, upright = (one, other) if one.height == 0 else (other, one)
    return (
        level.x + LEAST_PX <= upright.x <= level.right - LEAST_PX
        and upright.y + LEAST_PX <= level.y <= upright.bottom - LEAST_PX
    )


def _through(layout: Layout) -> Iterator[str]:
    solid = list(rectangles(layout))
    for route in layout.routes:
        for start, end in route.segments():
            yield from (
                f"{route.core.id} through {what}" for what, rect in solid if passes_through(start, end, rect)
            )


def label_faults(layout: Layout) -> list[str]:
    """Labels that lie over each other, over anything solid, or under a core that is not theirs."""
    faults = []
    pills = [(landing.label.rect, route.core.id) for route in layout.routes for landing in route.landings]
    solid = list(rectangles(layout))
    segments = [(start, end, route.core.id) for route in layout.routes for start, end in route.segments()]
    for (one, core), (other, _) in combinations(pills, 2):
        if overlap(one, other):
            faults.append(f"two labels of {core}")
    for pill, core in pills:
        faults += [f"{core} label over {what}" for what, rect in solid if overlap(pill, rect)]
        faults += [
            f"{other} through the label of {core}"
            for start, end, other in segments
            if other != core and passes_through(start, end, pill)
        ]
    return faults


def _overlaps(layout: Layout) -> Iterator[str]:
    for (what, one), (name, other) in combinations(rectangles(layout), 2):
        if overlap(one, other):
            yield f"{what} over {name}"


def _wrong_ends(layout: Layout) -> Iterator[str]:
    """Cores that do not end on the edge of their own pin or terminal, or on a spot that another has taken."""
    areas = {(box.box.id, pin.pin.id): pin.rect for box in layout.boxes for pin in box.pins}
    areas |= {(strip.strip.id, cell.cell.id): cell.rect for strip in layout.strips for cell in strip.cells}
    taken = set()
    for route in layout.routes:
        core = route.core
        wanted = [end for end in (core.from_pin, core.to) if end is not None]
        if [(landing.owner, landing.point) for landing in route.landings] != wanted:
            yield f"{core.id} ends elsewhere"
            continue
        for landing, corner in zip(route.landings, (route.points[0], route.points[-1]), strict=False):
            area = areas[landing.owner, landing.point]
            on_edge = landing.at.x in {area.x, area.right} and area.y < landing.at.y < area.bottom
            if not on_edge or landing.at in taken or (landing.at != corner and not landing.loose):
                yield f"{core.id} misses {landing.owner}.{landing.point}"
            taken.add(landing.at)


def _off_the_sheet(layout: Layout) -> Iterator[str]:
    sheet = Rect(0, 0, layout.width, layout.height)
    points = [point for route in layout.routes for point in route.points]
    spots = [(f"a corner at {point}", Rect(point.x, point.y, 0, 0)) for point in points]
    for what, rect in (*rectangles(layout), *spots):
        if rect.x < 0 or rect.y < 0 or rect.right > sheet.right or rect.bottom > sheet.bottom:
            yield f"{what} off the sheet"
