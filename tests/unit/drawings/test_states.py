"""Each state lights exactly what the input says is live in it."""

import re
from xml.etree import ElementTree

import pytest

from generator.drawings.drawing_css import list_live_classes, state_css
from generator.drawings.names import element_id, state_class
from generator.drawings.part import list_groups, take_zone
from generator.drawings.sizes import Form
from generator.drawings.terminal_model import TerminalDrawing
from generator.drawings.terminal_svg import draw_terminal_drawing
from tests.unit.drawings.houses import add_oddities, build_house


def _wanted(drawing: TerminalDrawing, ids: str, state: str) -> set[str]:
    cores = {element_id(ids, "core", core.id) for core in drawing.cores if state in core.live_in}
    cells = {
        element_id(ids, "cell", strip.id, cell.id)
        for strip in drawing.strips
        for cell in strip.cells
        if state in cell.live_in
    }
    pins = {
        element_id(ids, "pin", box.id, pin.id)
        for box in drawing.devices
        for pin in box.pins
        if state in pin.live_in
    }
    links = {
        element_id(ids, "link", strip.id, link.id)
        for strip in drawing.strips
        for link in strip.links
        if state in link.live_in
    }
    return cores | cells | pins | links


def _lit(svg: str, css: str, state: str) -> set[str]:
    """Return the ids that the style sheet's rule for `state` selects."""
    rule = re.search(rf"\.{state_class(state)} \.house :is\(([^)]*)\)", css)
    classes = set(rule[1].replace(".", "").split(", ")) if rule else set()
    root = ElementTree.fromstring(svg)  # noqa: S314 - our own output
    return {
        str(element.get("id"))
        for element in root.iter()
        if element.get("id") and classes & set((element.get("class") or "").split())
    }


@pytest.mark.parametrize("seed", [0, 5])
def test_every_form_lights_what_is_live(seed: int) -> None:
    drawing = build_house(3, banks=2)
    drawing = add_oddities(drawing, seed, 8) if seed else drawing
    css = state_css(drawing)
    shown: list[tuple[Form, str | None, TerminalDrawing]] = [("desktop", None, drawing)]
    shown += [("phone", group, take_zone(drawing, group)) for group in list_groups(drawing)]
    for form, group, part in shown:
        svg = draw_terminal_drawing(drawing, form=form, group=group)
        ids = f"house-{form}" + ("" if group is None else f"-{group}")
        for state in drawing.states:
            assert _lit(svg, css, state) == _wanted(part, ids, state)


def test_a_state_in_which_nothing_is_live_only_fades() -> None:
    drawing = build_house(2)
    css = state_css(TerminalDrawing(prefix="p", title="t", strips=(), devices=(), cores=(), states=("off",)))
    assert ".state-off.p, .state-off .p {" in css
    assert ":is(" not in css
    assert list_live_classes(drawing, "idle")


def test_the_state_chosen_at_first_is_on_the_drawing() -> None:
    svg = draw_terminal_drawing(build_house(2), form="desktop", state="zone-1")
    assert 'class="hb-drawing hb-terminal house state-zone-1"' in svg
