"""The drawings that the geometry is checked over, and helpers to look at one layout."""

from collections.abc import Iterator
from functools import cache

from generator.drawings.geometry import Layout, Point, Rect, Route
from generator.drawings.part import list_groups
from generator.drawings.sizes import NAME_PX, PLACE_PX, Form
from generator.drawings.terminal_layout import layout_terminal_drawing
from generator.drawings.terminal_model import TerminalDrawing
from generator.drawings.text_measure import measure
from tests.unit.drawings.houses import add_oddities, build_house

Case = tuple[int, int, int]

# (zones, banks, seed of the oddities; 0 for none)
CASES: tuple[Case, ...] = tuple(
    (zones, banks, seed)
    for zones in (1, 2, 3, 4, 5, 6, 8, 10, 12, 16)
    for banks in (1, 2)
    for seed in ((0, zones * 10 + banks, zones * 10 + banks + 500) if zones < 6 else (0, zones * 10 + banks))
)


@cache
def house(case: Case) -> TerminalDrawing:
    zones, banks, seed = case
    drawing = build_house(zones, banks=banks)
    return add_oddities(drawing, seed, count=4 + seed % 9) if seed else drawing


@cache
def layouts(case: Case) -> tuple[tuple[str, Layout], ...]:
    """Return every layout of a house: the desktop's, and the phone's of each zone."""
    drawing = house(case)
    form: Form = "phone"
    found = [("desktop", layout_terminal_drawing(drawing, form="desktop"))]
    found += [
        (f"phone {group}", layout_terminal_drawing(drawing, form=form, group=group))
        for group in list_groups(drawing)
    ]
    return tuple(found)


def all_layouts(cases: tuple[Case, ...] = CASES) -> Iterator[tuple[str, Layout]]:
    for case in cases:
        for name, layout in layouts(case):
            yield f"{case} {name}", layout


def rectangles(layout: Layout) -> Iterator[tuple[str, Rect]]:
    """Yield what no core may pass through: devices, terminals, names."""
    for box in layout.boxes:
        yield box.box.id, box.rect
        yield f"name of {box.box.id}", heading_rect(box.heading)
    for strip in layout.strips:
        yield f"name of {strip.strip.id}", heading_rect(strip.heading)
        for cell in strip.cells:
            yield f"{strip.strip.id} {cell.cell.id}", cell.rect


def heading_rect(heading: object) -> Rect:
    from generator.drawings.geometry import Heading

    assert isinstance(heading, Heading)
    widths = [measure(line, NAME_PX, bold=True) for line in heading.name]
    widths += [measure(line, PLACE_PX) for line in heading.place]
    width = max(widths, default=0.0)
    x = {"start": heading.x, "middle": heading.x - width / 2, "end": heading.x - width}[heading.anchor]
    height = 14 * max(len(heading.name) - 1, 0) + 12 * len(heading.place)
    return Rect(x, heading.y - 9, width, height + 11)


def overlap(one: Rect, other: Rect) -> bool:
    return one.x < other.right and other.x < one.right and one.y < other.bottom and other.y < one.bottom


def cover(start: Point, end: Point) -> Rect:
    """Return the rectangle, without width or height, that a level or upright segment is."""
    return Rect(min(start.x, end.x), min(start.y, end.y), abs(start.x - end.x), abs(start.y - end.y))


def passes_through(start: Point, end: Point, rect: Rect) -> bool:
    """Tell whether a segment has a point inside a rectangle (its edge does not count)."""
    line = cover(start, end)
    return line.x < rect.right and rect.x < line.right and line.y < rect.bottom and rect.y < line.bottom


def count_crossings(routes: tuple[Route, ...]) -> int:
    level: list[tuple[Rect, str]] = []
    upright: list[tuple[Rect, str]] = []
    for route in routes:
        for start, end in route.segments():
            (level if start.y == end.y else upright).append((cover(start, end), route.core.id))
    return sum(
        one.x < other.x < one.right and other.y < one.y < other.bottom and core != crossed
        for one, core in level
        for other, crossed in upright
    )
