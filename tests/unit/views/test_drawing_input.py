"""The terminal drawing of whole records: it shows their wiring, all of it and nothing else, and can be read.

Common practice, no source: the distances and widths are our own.
"""

import os
import re
import subprocess
import sys
from collections import Counter
from functools import cache
from xml.etree import ElementTree

import pytest

from generator.circuit.model import Circuit
from generator.drawings.drawing_css import state_css
from generator.drawings.names import state_class
from generator.drawings.part import SHARED, list_groups
from generator.drawings.sizes import PHONE_PX
from generator.drawings.terminal_forms import draw_forms, phone_parts, print_sheets
from generator.drawings.terminal_layout import layout_part
from generator.drawings.terminal_model import LINK, TerminalDrawing
from generator.states.solve import solve
from generator.views.conductor_names import conductor_names, spare_name
from generator.views.drawing_input import terminal_drawing, zone_groups
from generator.views.shown_states import answer_for, shown_states
from tests.circuits import house
from tests.short_circuits import large_circuits, short_circuits
from tests.stock import demo_circuits
from tests.tools.paths import ROOT
from tests.unit.drawings.faults import geometry_faults
from tests.unit.drawings.svg_boxes import clashes, ids_in


@cache
def _circuits() -> dict[str, Circuit]:
    return {**demo_circuits(), **short_circuits(), **large_circuits()}


HOUSES = tuple(_circuits())
EVERY_HOUSE = pytest.mark.parametrize("name", HOUSES)
FEW_INPUTS = 12


@cache
def _drawing(name: str) -> TerminalDrawing:
    circuit = _circuits()[name]
    # Where a core runs does not depend on the states: large houses are solved with most of their controls at rest.
    free = [item.name for item in circuit.called_inputs]
    solution = solve(circuit, held=dict.fromkeys(free[FEW_INPUTS:], False))
    states = [state for state in shown_states(circuit) if set(state.on) <= set(free[:FEW_INPUTS])]
    made = terminal_drawing(solution, states, title="Terminal wiring")
    assert made is not None
    return made


@EVERY_HOUSE
def test_every_conductor_of_the_record_is_drawn_between_its_own_two_terminals(name: str) -> None:
    circuit, drawing = _circuits()[name], _drawing(name)
    ends = {core.id: {core.from_pin, core.to} for core in drawing.cores}
    for strip in drawing.strips:
        ends |= {link.id: {(strip.id, cell) for cell in link.cells} for link in strip.links}
    wanted = {
        called: {tuple(end.split(".", 1)) for end in (conductor.a, conductor.b)}
        for called, conductor in zip(conductor_names(circuit), circuit.conductors, strict=True)
    }
    spare = {spare_name(core) for core in circuit.spare}
    assert {called: found for called, found in ends.items() if called not in spare} == wanted
    assert {core.id for core in drawing.cores if core.to is None} == spare
    assert {core.id for core in drawing.cores if core.assumed} | {
        link.id for strip in drawing.strips for link in strip.links if link.assumed
    } == {
        called
        for called, conductor in zip(conductor_names(circuit), circuit.conductors, strict=True)
        if conductor.assumed
    }


@EVERY_HOUSE
def test_every_form_can_be_read(name: str) -> None:
    circuit, drawing = _circuits()[name], _drawing(name)
    zones = zone_groups(circuit)
    every = {core.id for core in drawing.cores}
    assert geometry_faults(layout_part(drawing, drawing, form="desktop")) == []
    shown: set[str] = set()
    for words, part in phone_parts(drawing, zones):
        layout = layout_part(drawing, part, form="phone")
        assert geometry_faults(layout) == [], words
        assert layout.width <= PHONE_PX, words
        shown |= {core.id for core in part.cores}
    assert shown == every
    sheets = list(print_sheets(drawing, zones))
    assert bool(sheets) == (len([group for group in list_groups(drawing) if group != SHARED]) > 4)
    for words, sheet in sheets:
        assert geometry_faults(layout_part(drawing, sheet, form="desktop")) == [], words
    assert not sheets or {core.id for _, sheet in sheets for core in sheet.cores} == every


@EVERY_HOUSE
def test_a_part_says_how_many_cores_it_leaves_out(name: str) -> None:
    circuit, drawing = _circuits()[name], _drawing(name)
    zones = zone_groups(circuit)
    lands = Counter(end for core in drawing.cores for end in (core.from_pin, core.to))
    for _, part in (*phone_parts(drawing, zones), *print_sheets(drawing, zones)):
        here = Counter(end for core in part.cores for end in (core.from_pin, core.to))
        texts = {(strip.id, cell.id): cell.words for strip in part.strips for cell in strip.cells}
        texts |= {(box.id, pin.id): pin.label for box in part.devices for pin in box.pins}
        for end, text in texts.items():
            missing = lands[end] - here[end]
            assert text.endswith(f"(+{missing})") == bool(missing), (end, text)


@pytest.mark.parametrize(
    "name", ["EB-0027", "EB-0033", "EB-0066", "EB-0079", "EB-0090", "EB-0130", "EB-0153", "two-port, 5 zones"]
)
def test_ids_are_unique_on_the_page_and_no_text_lies_over_text(name: str) -> None:
    forms = draw_forms(_drawing(name), zone_groups(_circuits()[name]))
    pictures = [forms.desktop, *(part.svg for part in (*forms.phone, *forms.sheets))]
    ids = [each for svg in pictures for each in ids_in(svg)]
    assert len(ids) == len(set(ids))
    for svg in pictures:
        assert clashes(svg) == []
        assert "…<" not in svg, "words are cut"


@pytest.mark.parametrize("name", ["EB-0027", "EB-0066", "EB-0090", "EB-0108", "EB-0130", "EB-0153"])
def test_each_state_lights_the_conductors_that_the_solver_finds_live_and_no_others(name: str) -> None:
    circuit = _circuits()[name]
    solution = solve(circuit)
    states = shown_states(circuit)
    drawing = terminal_drawing(solution, states, title="Terminal wiring")
    assert drawing is not None
    forms, css = draw_forms(drawing, zone_groups(circuit)), state_css(drawing)
    called = conductor_names(circuit)
    for state in states:
        number, line = solution.space.state(state.on), answer_for(solution, state).line
        live = {
            called[each.index]
            for each in circuit.conductors
            if line[each.a] >> number & 1 and line[each.b] >> number & 1
        }
        either = {called[each.index] for each in circuit.conductors if line[each.a] >> number & 1}
        assert live == either
        assert _lit(forms.desktop, css, state.id) == live, state.id
        assert set().union(*(_lit(part.svg, css, state.id) for part in forms.phone)) == live, state.id


def _lit(svg: str, css: str, state: str) -> set[str]:
    """The conductors that the rule of a state selects."""
    rule = re.search(rf"\.{state_class(state)} \.wiring :is\(([^)]*)\)", css)
    classes = set(rule[1].replace(".", "").split(", ")) if rule else set()
    return {
        str(element.get("data-conductor"))
        for element in ElementTree.fromstring(svg).iter()  # noqa: S314 - our own output
        if element.get("data-conductor") and classes & set((element.get("class") or "").split())
    }


def _two_rooms(*before: str) -> TerminalDrawing:
    """A thermostat and a valve in a centre, with further thermostats recorded before them."""
    circuit = house(
        devices={
            "spur": "fused-spur",
            **dict.fromkeys(before, "room-thermostat"),
            "hall": "room-thermostat",
            "valve": "two-port-valve",
            "box": ("wiring-centre", {"terminals": ("1", "A", "12", "N")}),
        },
        conductors=[
            *((f"{name}.common", "box.1", "BN") for name in before),
            ("spur.L", "box.1", "BN"),
            ("spur.N", "box.N", "BU"),
            ("hall.common", "box.1", "BN"),
            ("hall.call", "box.A", "BK"),
            ("valve.motor", "box.A", "BN"),
            ("valve.N", "box.N", "BU"),
        ],
        links=[("box.A", "box.12")],
        spare=[
            {"cable": "hall", "core": "GY", "how": "bare"},
            {"cable": "old", "core": "BK", "how": "cut off"},
        ],
    )
    made = terminal_drawing(solve(circuit), shown_states(circuit), title="Two rooms")
    assert made is not None
    return made


def test_a_device_put_in_leaves_the_ids_of_all_others() -> None:
    before = draw_forms(_two_rooms(), ()).desktop
    after = draw_forms(_two_rooms("new"), ()).desktop
    assert set(ids_in(before)) < set(ids_in(after))


def test_a_conductor_is_called_on_its_drawing_as_in_every_table() -> None:
    svg = draw_forms(_two_rooms(), ()).desktop
    for called in ("hall.BK", "valve.BN", "box.A+box.12", "hall.GY"):
        assert f'data-conductor="{called}"' in svg
    assert 'data-terminal="box.12"' in svg
    assert 'data-terminal="hall.call"' in svg


def test_spare_cores_hang_at_the_device_of_their_cable_and_say_so() -> None:
    drawing = _two_rooms()
    loose = {box.id: [pin.label for pin in box.pins if pin.loose] for box in drawing.devices}
    assert loose["hall"] == ["bare end"]
    assert loose["cable old"] == ["spare"]
    forms = draw_forms(drawing, ())
    assert "A short core between two bars is spare: it is landed in no terminal." in forms.notes
    assert "landed in no terminal: cut off" in forms.desktop


def test_a_house_without_a_wiring_centre_is_drawn_around_a_device() -> None:
    drawing = _drawing("EB-0090")
    assert [strip.id for strip in drawing.strips] == ["boiler"]
    assert "There is no wiring centre" in drawing.description


def test_a_device_to_which_several_are_joined_stands_in_the_middle() -> None:
    assert [strip.name for strip in _drawing("EB-0153").strips] == ["Centre", "Underfloor controller"]


def test_the_first_note_says_what_is_assumed() -> None:
    seen, guessed = (draw_forms(_drawing(name), ()).notes[0] for name in ("EB-0027", "EB-0079"))
    assert "assumed" not in seen
    assert "A dashed core with a question mark is assumed" in guessed


def test_links_have_no_colour() -> None:
    links = [core for name in HOUSES[:40] for core in _drawing(name).cores if core.code == LINK]
    assert all(not core.cable for core in links)


SCRIPT = """
import hashlib
from generator.drawings.terminal_forms import draw_forms
from generator.views.drawing_input import zone_groups
from tests.unit.views.test_drawing_input import _circuits, _drawing
for name in ("EB-0066", "EB-0090", "two-port, 5 zones"):
    print(hashlib.sha256(repr(draw_forms(_drawing(name), zone_groups(_circuits()[name]))).encode()).hexdigest())
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
        for seed in ("0", "4242")
    }
    assert len(digests) == 1
