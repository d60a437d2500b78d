"""No arrangement of devices, links and odd wiring makes a drawing that can be misread.

Common practice, no source: the distances are our own.
"""

from itertools import combinations

import pytest

from generator.drawings.geometry import Rect, Route
from generator.drawings.sizes import CODE_PX, DOT_ROOM_PX
from generator.drawings.text_measure import measure
from tests.unit.drawings.faults import label_faults, too_close
from tests.unit.drawings.sweep import (
    CASES,
    Case,
    count_crossings,
    house,
    layouts,
    overlap,
    passes_through,
    rectangles,
)

EVERY_CASE = pytest.mark.parametrize("case", CASES, ids=lambda case: "-".join(map(str, case)))


@EVERY_CASE
def test_no_two_cores_come_close_except_where_they_cross(case: Case) -> None:
    for name, layout in layouts(case):
        assert too_close(layout) == [], name


@EVERY_CASE
def test_no_core_passes_through_a_device_a_terminal_or_a_name(case: Case) -> None:
    for name, layout in layouts(case):
        solid = list(rectangles(layout))
        for route in layout.routes:
            hit = [
                what
                for start, end in route.segments()
                for what, rect in solid
                if passes_through(start, end, rect)
            ]
            assert hit == [], (name, route.core.id)


@EVERY_CASE
def test_every_core_ends_on_its_own_pins_and_terminals(case: Case) -> None:
    drawing = house(case)
    wanted = {core.id: tuple(end for end in (core.from_pin, core.to) if end) for core in drawing.cores}
    for name, layout in layouts(case):
        areas = {(box.box.id, pin.pin.id): pin.rect for box in layout.boxes for pin in box.pins}
        areas |= {
            (strip.strip.id, cell.cell.id): cell.rect for strip in layout.strips for cell in strip.cells
        }
        taken = set()
        for route in layout.routes:
            ends = tuple((landing.owner, landing.point) for landing in route.landings)
            assert ends == wanted[route.core.id], name
            corners = (route.points[0], route.points[-1])
            for landing, corner in zip(route.landings, corners, strict=False):
                area = areas[landing.owner, landing.point]
                assert landing.at == corner
                assert landing.at.x in {area.x, area.right}
                assert area.y < landing.at.y < area.bottom
                # It leaves away from the terminal, and no other core lands on the same spot.
                assert landing.towards == (1 if landing.at.x == area.right else -1)
                assert landing.at not in taken
                taken.add(landing.at)


@EVERY_CASE
def test_the_desktop_drawing_shows_every_core_once(case: Case) -> None:
    drawing = house(case)
    assert [route.core.id for route in layouts(case)[0][1].routes] == [core.id for core in drawing.cores]


@EVERY_CASE
def test_lines_are_level_and_upright_in_turn(case: Case) -> None:
    for _, layout in layouts(case):
        for route in layout.routes:
            for index, (start, end) in enumerate(route.segments()):
                assert start != end
                assert (start.y == end.y) if index % 2 == 0 else (start.x == end.x)


@EVERY_CASE
def test_labels_stand_clear_of_everything_else(case: Case) -> None:
    for name, layout in layouts(case):
        assert label_faults(layout) == [], name


def _text_width(route: Route, index: int) -> float:
    label = route.landings[index].label
    where = measure(f" {label.where}", CODE_PX) if label.where else 0
    return measure(label.code, CODE_PX, bold=True) + where


@EVERY_CASE
def test_text_stays_inside_its_label(case: Case) -> None:
    for _, layout in layouts(case):
        for route in layout.routes:
            for index, landing in enumerate(route.landings):
                assert _text_width(route, index) <= landing.label.rect.width
                assert landing.label.rect.height >= CODE_PX


@EVERY_CASE
def test_labels_and_sleeving_leave_the_dots_free(case: Case) -> None:
    for _, layout in layouts(case):
        for route in layout.routes:
            for landing in route.landings:
                pill = landing.label.rect
                near = pill.x - landing.at.x if landing.towards > 0 else landing.at.x - pill.right
                assert near >= DOT_ROOM_PX
                if landing.sleeve is not None:
                    begin, end = (abs(x - landing.at.x) for x in landing.sleeve)
                    assert DOT_ROOM_PX <= begin < end < near


@EVERY_CASE
def test_cores_at_one_terminal_land_in_the_order_of_their_devices(case: Case) -> None:
    for name, layout in layouts(case):
        boxes = {box.box.id for box in layout.boxes}
        landed: dict[tuple[str, str, float], list[tuple[float, float]]] = {}
        for route in layout.routes:
            ends = [(end.owner in boxes, end.owner, end) for end in route.landings]
            if sorted(at_box for at_box, _, _ in ends) == [False, True]:
                (_, _, cell), (_, _, pin) = sorted(ends, key=lambda end: end[0])
                landed.setdefault((cell.owner, cell.point, cell.at.x), []).append((cell.at.y, pin.at.y))
        for where, pairs in landed.items():
            assert [pin for _, pin in sorted(pairs)] == sorted(pin for _, pin in pairs), (name, where)


@EVERY_CASE
def test_devices_and_terminals_do_not_overlap_and_stay_on_the_sheet(case: Case) -> None:
    for name, layout in layouts(case):
        sheet = Rect(0, 0, layout.width, layout.height)
        solid = list(rectangles(layout))
        for what, rect in solid:
            assert rect.x >= sheet.x, (name, what)
            assert rect.right <= sheet.right, (name, what)
            assert rect.y >= sheet.y, (name, what)
            assert rect.bottom <= sheet.bottom, (name, what)
        hits = [(a, b) for (a, one), (b, other) in combinations(solid, 2) if overlap(one, other)]
        assert hits == [], name
        for route in layout.routes:
            assert all(
                0 <= point.x <= layout.width and 0 <= point.y <= layout.height for point in route.points
            )


@EVERY_CASE
def test_the_layout_counts_its_crossings_right(case: Case) -> None:
    for name, layout in layouts(case):
        if all(len(route.points) < 6 for route in layout.routes):
            assert count_crossings(layout.routes) == layout.crossings, name


@pytest.mark.parametrize(("zones", "most"), [(1, 46), (2, 86), (4, 198), (8, 555), (12, 1120)])
def test_crossings_stay_few(zones: int, most: int) -> None:
    # Common practice, no source: 5 % over what the search found when it was written.
    assert layouts((zones, 1, 0))[0][1].crossings <= most
