"""Ladder, water side and timelines of every house: nothing overlaps, and what is lit is what the solvers found."""

import os
import re
import subprocess
import sys
from functools import cache
from xml.etree import ElementTree

import pytest

from generator.drawings.drawing_css import on_css, state_css
from generator.drawings.ladder_model import Blade, Block, EndLoad, Ladder, Parallel, Rung, Series, elements
from generator.drawings.ladder_svg import draw_ladder, ladder_css, needs_folding
from generator.drawings.names import element_id, state_class
from generator.drawings.timeline_svg import draw_timeline
from generator.drawings.water_model import Heats, WaterDrawing
from generator.drawings.water_svg import draw_water, water_css
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.states.water import water_answer
from generator.views.ladder_input import ladder
from generator.views.shown_states import answer_for, shown_states
from generator.views.timelines import change_overs, zone_timelines
from generator.views.water_input import water_drawing
from tests.short_circuits import short_circuits
from tests.stock import demo_circuits
from tests.three_port_houses import mid_position
from tests.unit.drawings.svg_boxes import clashes, ids_in

HOUSES = {"mid-position": mid_position(), **demo_circuits(), **short_circuits()}


@cache
def _solved(name: str) -> Solution:
    return solve(HOUSES[name])


def _ladder(name: str) -> Ladder:
    made = ladder(_solved(name), shown_states(HOUSES[name]), title="Ladder")
    assert made is not None
    return made


def _water(name: str) -> WaterDrawing | None:
    return water_drawing(_solved(name), shown_states(HOUSES[name]), title="Water side")


def _selected(svg: str, css: str, state: str) -> set[str]:
    """The ids of a drawing that the rules of a state select."""
    prefix = re.search(r'class="hb-drawing \S+ (\S+)', svg)
    assert prefix is not None
    classes: set[str] = set()
    for rule in re.finditer(rf"\.{re.escape(state_class(state))} \.{prefix[1]} :is\(([^)]*)\)", css):
        classes |= set(rule[1].replace(".", "").split(", "))
    return {
        str(element.get("id"))
        for element in ElementTree.fromstring(svg).iter()  # noqa: S314
        if element.get("id") and classes & set((element.get("class") or "").split())
    }


@pytest.mark.parametrize("name", HOUSES)
def test_nothing_overlaps_and_ids_are_unique(name: str) -> None:
    solution = _solved(name)
    drawn = [draw_ladder(_ladder(name), state="rest"), draw_ladder(_ladder(name), state="rest", folded=True)]
    water = _water(name)
    drawn += [draw_water(water, state="rest")] if water is not None else []
    drawn += [draw_timeline(shown.drawing) for shown in (*zone_timelines(solution), *change_overs(solution))]
    ids = [each for svg in drawn for each in ids_in(svg)]
    assert len(ids) == len(set(ids))
    for svg in drawn:
        assert clashes(svg) == []
        assert "…<" not in svg, "words are cut"


@pytest.mark.parametrize("name", HOUSES)
def test_ladder_shows_what_the_solver_found(name: str) -> None:
    solution, made = _solved(name), _ladder(name)
    svg = draw_ladder(made, state="rest")
    live, on = state_css(made), on_css(made.prefix, made.states, made.every_on_in())
    assert ladder_css(made) == live + on
    blades, loads = _parts(made)
    for state in shown_states(solution.circuit):
        lit, shut = _selected(svg, live, state.id), _selected(svg, on, state.id)
        assert shut == {element_id(made.prefix, "blade", b.id) for b in blades if state.id in b.on_in}
        assert {element_id(made.prefix, "load", e.id) for e in loads if state.id in e.live_in} == {
            each for each in lit if each.startswith(f"{made.prefix}-load-")
        }
        number, answer = solution.space.state(state.on), answer_for(solution, state)
        fed = {
            solution.circuit.device(load.name.split(".", 1)[0]).words
            for load in solution.circuit.loads
            if answer.fed[load.name] >> number & 1
        }
        assert {load.name for load in loads if state.id in load.live_in} <= fed


def _parts(made: Ladder) -> tuple[list[Blade], list[EndLoad]]:
    rungs: list[Rung] = []
    for rails in made.rails:
        for item in rails.items:
            rungs += item.rungs if isinstance(item, Block) else (item,)
    blades = [part for rung in rungs for part in elements(rung.series) if isinstance(part, Blade)]
    return blades, [load for rung in rungs for load in rung.loads]


@pytest.mark.parametrize("name", HOUSES)
def test_a_rung_is_live_at_its_end_in_just_the_states_in_which_its_contacts_let_through(name: str) -> None:
    made = _ladder(name)
    for rails in made.rails:
        if not rails.live_in:
            continue  # sensed by a device itself, and never live
        for item in rails.items:
            for rung in item.rungs if isinstance(item, Block) else (item,):
                live = {state for state in made.states if state in rung.end_live_in}
                through = {state for state in made.states if _lets_through(rung.series, state)}
                if isinstance(item, Block):
                    # A valve's own switches, which are not drawn, may make a pin live from inside.
                    assert not rung.series or through <= live, rung.id
                else:
                    assert through == live, rung.id


def _lets_through(series: Series, state: str) -> bool:
    return all(
        state in part.on_in
        if isinstance(part, Blade)
        else not isinstance(part, Parallel) or any(_lets_through(way, state) for way in part.ways)
        for part in series
    )


@pytest.mark.parametrize("name", HOUSES)
def test_a_folded_ladder_shows_the_same_and_fits_a_phone_shrunk_a_little(name: str) -> None:
    made = _ladder(name)
    whole, folded = (draw_ladder(made, state="rest", folded=fold) for fold in (False, True))
    titles = [sorted(re.findall(r"<title>([^<]*)</title>", svg)) for svg in (whole, folded)]
    assert titles[0] == titles[1]
    width = float(ElementTree.fromstring(folded).get("width", ""))  # noqa: S314 - our own output
    # Common practice, no source: 344 px are shown of 410, so that words of 11 px are 9 px high.
    assert width <= 410
    assert needs_folding(made) == (float(ElementTree.fromstring(whole).get("width", "")) > 410)  # noqa: S314


@pytest.mark.parametrize("name", HOUSES)
def test_water_shows_what_the_solver_found(name: str) -> None:
    solution, made = _solved(name), _water(name)
    if made is None:
        assert not solution.circuit.water.circuits
        return
    svg, css = draw_water(made, state="rest"), water_css(made)
    for state in shown_states(solution.circuit):
        number = solution.space.state(state.on)
        water = water_answer(solution, answer_for(solution, state))
        wanted = {
            element_id(made.prefix, "row", loop.id, row.id)
            for loop in made.loops
            for row in loop.rows
            if water.flow(row.id).flows >> number & 1
        }
        found = {each for each in _selected(svg, css, state.id) if each.startswith(f"{made.prefix}-row-")}
        assert found == wanted, state.id


@pytest.mark.parametrize("name", short_circuits())
def test_every_arrangement_has_a_water_side_and_a_ladder(name: str) -> None:
    made = _water(name)
    assert made is not None
    circuits = [circuit.name for circuit in HOUSES[name].water.circuits]
    assert sorted(row.id for loop in made.loops for row in loop.rows) == sorted(circuits)
    assert any(rails.items for rails in _ladder(name).rails)


def test_what_has_a_supply_of_its_own_has_rails_of_its_own() -> None:
    # Read against the records: the outhouse's boiler, and the electric boiler with an isolator of its own.
    assert [rails.words for rails in _ladder("EB-0108").rails] == [
        "Fed by the spur:",
        "Fed by the outhouse spur:",
    ]
    assert [rails.words for rails in _ladder("EB-0183").rails] == [
        "Fed by the spur:",
        "Fed by the boiler isolator:",
    ]
    assert [rails.words for rails in _ladder("EB-0012").rails] == [""]


@pytest.mark.parametrize(
    ("name", "wanted"),
    [
        ("EB-0012", [Heats.BURNER]),
        ("EB-0167", [Heats.COMPRESSOR]),
        ("EB-0175", [Heats.BURNER, Heats.BURNER]),
        ("EB-0183", [Heats.ELEMENT]),
    ],
)
def test_a_source_shows_what_makes_its_heat(name: str, wanted: list[Heats]) -> None:
    made = _water(name)
    assert made is not None
    assert [loop.heats for loop in made.loops] == wanted


_PRINTS = """
from tests.pages.test_call_drawings import HOUSES, _ladder, _water, _solved
from generator.drawings.ladder_svg import draw_ladder, ladder_css
from generator.drawings.water_svg import draw_water, water_css
from generator.drawings.timeline_svg import draw_timeline
from generator.views.timelines import change_overs, zone_timelines
for name in ("mid-position", "boiler called by a relay", "overrun boiler"):
    print(draw_ladder(_ladder(name)), ladder_css(_ladder(name)))
    print(draw_water(_water(name)), water_css(_water(name)))
    for shown in (*zone_timelines(_solved(name)), *change_overs(_solved(name))):
        print(draw_timeline(shown.drawing), shown)
"""


def test_hash_seed_changes_nothing() -> None:
    outputs = [
        subprocess.run(
            [sys.executable, "-c", _PRINTS],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    ]
    assert outputs[0]
    assert outputs[0] == outputs[1]
