"""Wiring that no house has, drawn at random: even then nothing touches, and every core ends where it should."""

from hypothesis import given, settings
from hypothesis import strategies as st

from generator.drawings.geometry import Layout
from generator.drawings.terminal_layout import layout_terminal_drawing
from generator.drawings.terminal_model import Box, Cell, Core, End, Link, Pin, Role, Strip, TerminalDrawing
from tests.unit.drawings.faults import label_faults, too_close
from tests.unit.drawings.sweep import passes_through, rectangles

_NAMES = st.text(st.characters(codec="utf-8", categories=["L", "N", "P", "Zs"]), max_size=30)
_CODES = st.sampled_from(["BN", "BU", "GNYE", "BNWH", "", "??"])


@st.composite
def _drawings(draw: st.DrawFn) -> TerminalDrawing:
    strips = []
    for number in range(draw(st.integers(0, 3))):
        cells = tuple(
            Cell(id=f"c{cell}", label=draw(st.sampled_from(["1", "A", "12", "N1"])), words=draw(_NAMES))
            for cell in range(draw(st.integers(0, 6)))
        )
        links = (Link(id="l", cells=("c0", f"c{len(cells) - 1}")),) if len(cells) > 1 else ()
        strips.append(Strip(id=f"s{number}", name=draw(_NAMES), place=draw(_NAMES), cells=cells, links=links))
    boxes = tuple(
        Box(
            id=f"b{number}",
            name=draw(_NAMES),
            place=draw(_NAMES),
            pins=tuple(Pin(id=f"p{pin}", label=draw(_NAMES)) for pin in range(draw(st.integers(1, 5)))),
            role=draw(st.sampled_from(list(Role))),
            group=draw(st.sampled_from(["", "one", "two"])),
            ordered=draw(st.booleans()),
        )
        for number in range(draw(st.integers(1, 7)))
    )
    ends: list[End] = [(strip.id, cell.id) for strip in strips for cell in strip.cells]
    ends += [(box.id, pin.id) for box in boxes for pin in box.pins]
    cores = []
    for number in range(draw(st.integers(0, 20))):
        start = draw(st.sampled_from(ends))
        to = draw(st.sampled_from([None, *(end for end in ends if end != start)]))
        cores.append(
            Core(
                id=f"k{number}",
                code=draw(_CODES),
                from_pin=start,
                to=to,
                assumed=draw(st.booleans()),
                sleeve=draw(st.sampled_from([None, "BN", "GNYE"])),
            )
        )
    return TerminalDrawing(
        prefix="r", title="Random", strips=tuple(strips), devices=boxes, cores=tuple(cores)
    )


def _check(layout: Layout, drawing: TerminalDrawing) -> None:
    assert too_close(layout) == []
    assert label_faults(layout) == []
    solid = list(rectangles(layout))
    wanted = {core.id: [end for end in (core.from_pin, core.to) if end] for core in drawing.cores}
    for route in layout.routes:
        assert [(landing.owner, landing.point) for landing in route.landings] == wanted[route.core.id]
        for start, end in route.segments():
            assert not [what for what, rect in solid if passes_through(start, end, rect)]


@settings(max_examples=60)
@given(_drawings())
def test_random_wiring_can_be_read(drawing: TerminalDrawing) -> None:
    _check(layout_terminal_drawing(drawing, form="desktop"), drawing)
    _check(layout_terminal_drawing(drawing, form="phone"), drawing)
    for group in ("", "one"):
        _check(layout_terminal_drawing(drawing, form="phone", group=group), drawing)
