"""The SVG of a terminal drawing: well formed, its ids unique, its text inert, its bytes always the same."""

import os
import re
import subprocess
import sys
from dataclasses import replace
from xml.etree import ElementTree

import pytest

from generator.drawings.drawing_css import drawing_css, state_css
from generator.drawings.part import list_groups, split_sheets
from generator.drawings.terminal_model import Cell, Core, DrawingInputError, Link, TerminalDrawing
from generator.drawings.terminal_svg import draw_terminal_drawing
from tests.tools.paths import ROOT
from tests.unit.drawings.houses import add_oddities, build_house

SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "<script>alert(\"1\")</script> & 'x' </title>\x00\x1b{{ 7*7 }} ]]>"


def _parse(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)  # noqa: S314 - our own output


def _all_forms(drawing: TerminalDrawing) -> list[str]:
    phones = [draw_terminal_drawing(drawing, form="phone", group=group) for group in list_groups(drawing)]
    return [draw_terminal_drawing(drawing, form="desktop"), *phones]


def _house(seed: int = 7) -> TerminalDrawing:
    return add_oddities(build_house(4, banks=2), seed, 12)


def test_it_is_well_formed_and_every_id_is_used_once_on_a_page_with_all_forms() -> None:
    drawing = _house()
    ids = []
    other = replace(drawing, prefix="other")
    for svg in [*_all_forms(drawing), *_all_forms(other)]:
        root = _parse(svg)
        here = [element.get("id") for element in root.iter() if element.get("id")]
        assert len(here) == len(set(here))
        ids += here
        for name in (root.get("aria-labelledby") or "").split():
            assert name in here
    assert len(ids) == len(set(ids))


def test_every_core_has_its_sentence_and_can_be_reached_by_the_keyboard() -> None:
    drawing = _house()
    root = _parse(draw_terminal_drawing(drawing, form="desktop"))
    cores = [group for group in root.iter(f"{SVG}g") if group.get("tabindex") == "0"]
    assert [core.findtext(f"{SVG}title") for core in cores] == [core.title for core in drawing.cores]
    assert root.get("role") == "group"


def test_without_the_keyboard_it_is_one_image() -> None:
    svg = draw_terminal_drawing(_house(), form="desktop", focusable=False)
    assert _parse(svg).get("role") == "img"
    assert "tabindex" not in svg


def test_ids_come_from_names_and_not_from_positions() -> None:
    drawing = build_house(2)
    turned = replace(drawing, devices=drawing.devices[::-1], cores=drawing.cores[::-1])

    def ids(one: TerminalDrawing) -> set[str | None]:
        return {element.get("id") for element in _parse(draw_terminal_drawing(one, form="desktop")).iter()}

    assert ids(drawing) == ids(turned)


def test_renaming_everything_changes_only_names() -> None:
    drawing = build_house(3)
    renamed = replace(
        drawing,
        devices=tuple(replace(box, name=box.name[::-1], place=box.place[::-1]) for box in drawing.devices),
    )
    one, other = (
        [
            element.attrib
            for element in _parse(draw_terminal_drawing(each, form="desktop")).iter()
            if element.get("class") not in {"hb-name", "hb-place"}
        ]
        for each in (drawing, renamed)
    )
    assert one == other


def _hostile() -> TerminalDrawing:
    drawing = _house()
    return replace(
        drawing,
        title=HOSTILE,
        description=HOSTILE,
        states=(HOSTILE,),
        strips=tuple(
            replace(
                strip,
                name=HOSTILE,
                place=HOSTILE,
                mark=HOSTILE,
                cells=tuple(
                    replace(cell, label=HOSTILE, words=HOSTILE, live_in=(HOSTILE,)) for cell in strip.cells
                ),
                links=tuple(replace(link, title=HOSTILE) for link in strip.links),
            )
            for strip in drawing.strips
        ),
        devices=tuple(
            replace(
                box,
                name=HOSTILE,
                place=HOSTILE,
                group=HOSTILE,
                pins=tuple(replace(pin, label=HOSTILE, live_in=(HOSTILE,)) for pin in box.pins),
            )
            for box in drawing.devices
        ),
        cores=tuple(
            replace(
                core, id=core.id + HOSTILE, code=HOSTILE, sleeve=HOSTILE, title=HOSTILE, live_in=(HOSTILE,)
            )
            for core in drawing.cores
        ),
    )


def test_hostile_names_are_inert() -> None:
    drawing = _hostile()
    for svg in [
        draw_terminal_drawing(drawing, form="desktop", state=HOSTILE),
        draw_terminal_drawing(drawing, form="phone", group=HOSTILE),
    ]:
        root = _parse(svg)
        tags = {element.tag.removeprefix(SVG) for element in root.iter()}
        assert tags <= {"svg", "g", "rect", "path", "circle", "text", "tspan", "title", "desc"}
        names = {name for element in root.iter() for name in element.attrib}
        assert not [name for name in names if name.startswith("on") or "href" in name or name == "style"]
        assert "49" not in (root.findtext(f"{SVG}title") or "")
        for element in root.iter():
            assert re.fullmatch(r"[A-Za-z0-9_ -]*", element.get("class") or "")
            assert re.fullmatch(r"[A-Za-z0-9_-]*", element.get("id") or "")
    assert re.fullmatch(r"[A-Za-z0-9_ .,:;(){}#-]*", re.sub(r"/\*.*?\*/|\s", "", state_css(drawing)))


def test_nothing_is_loaded_from_elsewhere() -> None:
    for svg in _all_forms(_house()):
        assert svg.count("http") == 1
        assert 'xmlns="http://www.w3.org/2000/svg"' in svg
        assert "font" not in svg
        assert "url(" not in svg


SCRIPT = """
import hashlib
from generator.drawings.call_map import draw_call_map
from generator.drawings.drawing_css import drawing_css, state_css
from generator.drawings.part import list_groups
from generator.drawings.terminal_svg import draw_terminal_drawing
from tests.unit.drawings.houses import add_oddities, build_house
from tests.unit.drawings.call_maps import build_call_map
drawing = add_oddities(build_house(5, banks=2), 3, 12)
parts = [draw_terminal_drawing(drawing, form="desktop"), drawing_css(), state_css(drawing)]
parts += [draw_terminal_drawing(drawing, form="phone", group=group) for group in list_groups(drawing)]
parts += [draw_call_map(build_call_map(5)), state_css(build_call_map(5))]
print(hashlib.sha256("".join(parts).encode()).hexdigest())
"""


def test_the_bytes_do_not_depend_on_the_hash_seed() -> None:
    digests = {
        subprocess.run(
            [sys.executable, "-c", SCRIPT],
            cwd=ROOT,
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "4242")
    }
    assert len(digests) == 1


def test_every_class_that_colours_a_core_is_in_the_style_sheet() -> None:
    css = drawing_css()
    for svg in _all_forms(_house()):
        for name in set(re.findall(r"\bhb-[12]-\w+", svg)):
            assert f".{name} {{" in css


def test_sheets_for_print_together_show_every_core() -> None:
    drawing = build_house(9)
    sheets = split_sheets(drawing)
    assert len(sheets) == 3
    assert {core.id for sheet in sheets for core in sheet.cores} == {core.id for core in drawing.cores}
    assert len({sheet.prefix for sheet in sheets}) == 3


@pytest.mark.parametrize(
    ("change", "fault"),
    [
        ({"prefix": "1 x"}, "prefix"),
        ({"cores": (Core(id="a", code="BN", from_pin=("nowhere", "L"), to=None),)}, "not drawn"),
        ({"cores": (Core(id="a", code="BN", from_pin=("boiler", "N"), to=("boiler", "N")),)}, "both ends"),
        ({"devices": ()}, "not drawn"),
        ({"states": ()}, "does not list"),
    ],
)
def test_input_that_contradicts_itself_is_refused(change: dict[str, object], fault: str) -> None:
    drawing = replace(build_house(2), **change)  # type: ignore[arg-type]
    with pytest.raises(DrawingInputError, match=fault):
        draw_terminal_drawing(drawing, form="desktop")


def test_repeated_ids_and_loose_links_are_refused_all_at_once() -> None:
    drawing = build_house(2)
    strip = drawing.strips[0]
    bad = replace(
        strip,
        cells=(*strip.cells, Cell(id=strip.cells[0].id, label="Z")),
        links=(Link(id="one", cells=("Live",)),),
    )
    doubled = replace(drawing, strips=(bad,), cores=(*drawing.cores, drawing.cores[0]))
    with pytest.raises(DrawingInputError) as caught:
        draw_terminal_drawing(doubled, form="desktop")
    assert len(caught.value.faults) == 3


def test_an_unknown_state_is_refused() -> None:
    with pytest.raises(DrawingInputError, match="no state"):
        draw_terminal_drawing(build_house(1), form="desktop", state="never")
