"""Metal links between terminals of one wiring centre: each on a lane of its own inside the strip.

It knows terminals and positions only.
"""

from generator.drawings.geometry import PlacedCell, PlacedLink, Point
from generator.drawings.sizes import LANE_PX
from generator.drawings.terminal_model import Strip


def assign_lanes(strips: tuple[Strip, ...]) -> dict[tuple[str, str], int]:
    """Return the lane of each link by strip and link; links that share a terminal or overlap take different lanes."""
    lanes: dict[tuple[str, str], int] = {}
    for strip in strips:
        place = {cell.id: number for number, cell in enumerate(strip.cells)}
        taken: list[list[tuple[int, int]]] = []
        for link in strip.links:
            low, high = min(place[cell] for cell in link.cells), max(place[cell] for cell in link.cells)
            lane = next(
                (
                    number
                    for number, spans in enumerate(taken)
                    if all(high < first or last < low for first, last in spans)
                ),
                len(taken),
            )
            if lane == len(taken):
                taken.append([])
            taken[lane].append((low, high))
            lanes[strip.id, link.id] = lane
    return lanes


def place_links(
    strip: Strip, cells: tuple[PlacedCell, ...], lanes: dict[tuple[str, str], int]
) -> tuple[PlacedLink, ...]:
    """Place each link: a dot in every terminal it joins, counted from the strip's right edge inwards."""
    by_id = {placed.cell.id: placed for placed in cells}
    found = []
    for link in strip.links:
        inward = LANE_PX * (lanes[strip.id, link.id] + 0.5)
        middles = [Point(by_id[cell].rect.right - inward, by_id[cell].rect.middle.y) for cell in link.cells]
        found.append(PlacedLink(link=link, points=tuple(sorted(middles, key=lambda point: point.y))))
    return tuple(found)
