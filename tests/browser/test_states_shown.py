"""What a page lights in each state, read from the browser, against the answer of the solver: conductor by conductor."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import cache
from typing import Any

import pytest
from selenium.webdriver import Chrome

from generator.drawings.names import live_class, on_class
from generator.pipeline import examine
from generator.states.answer import Solution
from generator.views.conductor_names import conductor_names
from generator.views.property import PropertyView, property_view
from generator.views.shown_states import ShownState, answer_for
from tests.browser.site_pages import set_window
from tests.tools.paths import PROPERTIES

_TODAY = date(2026, 11, 25)

HOUSES = (
    "EB-0012",  # two-port
    "EB-0027",  # orange is the permanent live
    "EB-0033",  # six zones and a relay
    "EB-0108",  # a relay with a pump of its own
    "EB-0130",  # mid-position: results that depend on what came before
    "EB-0138",  # diverter
    "EB-0153",  # underfloor
    "EB-0160",  # header with zone pumps
)

_LIT = """
const lit = {};
for (const part of document.querySelectorAll("svg [data-conductor]")) {
  if (!part.getClientRects().length) continue;
  const line = part.matches(".hb-core") ? part.querySelector(".hb-wire") : part;
  const full = part.matches(".hb-link")
    ? getComputedStyle(part).getPropertyValue("--hb-dot") !== ""
    : getComputedStyle(line).opacity === "1";
  (lit[part.dataset.conductor] ||= []).push(full);
}
return lit;
"""
_LIVE_ROWS = """
return [...document.querySelectorAll("table.hb-table--states")]
  .filter((table) => (table.dataset.file || "").startsWith("terminals"))
  .flatMap((table) => [...table.tBodies].flatMap((body) => [...body.rows]))
  .filter((row) => !row.cells[0].hasAttribute("colspan"))
  .map((row) => [...row.cells].filter((cell) => cell.classList.contains("hb-col-on")))
  .map((cells) => [cells.length, cells[0].classList.contains("hb-live"), cells[0].textContent.includes("live")]);
"""
_PROPERTIES = """
return arguments[0].map(([name, property]) => {
  const part = document.querySelector("svg ." + name);
  return part ? getComputedStyle(part).getPropertyValue(property).trim() : null;
});
"""


@cache
def view_of(reference: str) -> PropertyView:
    return property_view(examine(PROPERTIES / f"{reference}.yaml", today=_TODAY), stem=reference)


def _choose(browser: Chrome, state: ShownState) -> None:
    browser.execute_script("location.hash = arguments[0]", f"state={state.id}")
    shown: Any = browser.execute_async_script(
        "const done = arguments[arguments.length - 1];"
        "requestAnimationFrame(() => requestAnimationFrame(() => done(document.querySelector('article').dataset.state)))"
    )
    assert shown == state.id


def _live(solution: Solution, state: ShownState) -> Mapping[str, bool]:
    """Whether each terminal is joined to line, straight from the solver."""
    line, number = answer_for(solution, state).line, solution.space.state(state.on)
    return {place.ref: bool(line[place.ref] >> number & 1) for place in solution.circuit.terminals}


@pytest.mark.parametrize(
    ("reference", "page", "width"),
    [
        *((reference, "pack/", 1280) for reference in HOUSES),
        ("EB-0012", "wiring/", 360),
        ("EB-0033", "wiring/", 360),
        ("EB-0130", "wiring/", 360),
    ],
)
def test_what_is_lit_is_what_the_solver_finds_live(
    window: Chrome, demo_url: str, reference: str, page: str, width: int
) -> None:
    solved = view_of(reference).solved
    assert solved is not None
    circuit = solved.solution.circuit
    set_window(window, width, "light")
    window.get(f"{demo_url}p/{reference}/{page}")
    rows = [row.ref for table in (*solved.centres, *solved.devices) for row in table.rows]
    wrong = []
    for state in solved.states:
        _choose(window, state)
        live = _live(solved.solution, state)
        lit: dict[str, list[bool]] = window.execute_script(_LIT)
        for name, conductor in zip(conductor_names(circuit), circuit.conductors, strict=True):
            shown = lit.get(name)
            if shown is None or set(shown) != {live[conductor.a]}:
                wrong.append(f"{state.id}: {name} is lit {shown}, live {live[conductor.a]}")
        spare = {f"{core.cable}.{core.core}" for core in circuit.spare} - set(conductor_names(circuit))
        wrong += [f"{state.id}: spare {name} is lit" for name in spare if any(lit.get(name, ()))]
        told: list[tuple[int, bool, bool]] = window.execute_script(_LIVE_ROWS)
        assert len(told) == len(rows)
        for ref, (columns, marked, said) in zip(rows, told, strict=True):
            if (columns, marked, said) != (1, live[ref], live[ref]):
                wrong.append(
                    f"{state.id}: the row of {ref} has {columns}, {marked}, {said}; live {live[ref]}"
                )
    assert wrong == []


@pytest.mark.parametrize("reference", HOUSES)
def test_ladder_call_map_and_water_follow_the_same_choice(
    window: Chrome, demo_url: str, reference: str
) -> None:
    """Each part is on in the states that its view says, and the views are held against the solvers in tests/unit."""
    solved = view_of(reference).solved
    assert solved is not None
    asked: dict[tuple[str, str], tuple[str, ...]] = {}

    def ask(name: str, kept: str, states: tuple[str, ...]) -> None:
        # What is never on has no class of its own.
        if name:
            asked[name, kept] = states

    for drawing in (solved.ladder, solved.call_map):
        if drawing is not None:
            _each(
                drawing.every_live_in(), lambda on, d=drawing: ask(live_class(d.prefix, on), "--hb-dot", on)
            )
    for also in (solved.ladder, solved.water):
        if also is not None:
            _each(also.every_on_in(), lambda on, d=also: ask(on_class(d.prefix, on), "--hb-on", on))
    assert asked
    window.get(f"{demo_url}p/{reference}/pack/")
    wrong = []
    for state in solved.states:
        _choose(window, state)
        found: list[str | None] = window.execute_script(_PROPERTIES, [list(each) for each in asked])
        for (name, kept), value in zip(asked, found, strict=True):
            on = value not in ("", "0")
            if value is not None and on != (state.id in asked[name, kept]):
                wrong.append(f"{state.id}: {name} has {kept} {value!r}, on in {asked[name, kept]}")
    assert wrong == []


def _each(every: Iterable[tuple[str, ...]], act: Any) -> None:
    for states in every:
        act(states)
