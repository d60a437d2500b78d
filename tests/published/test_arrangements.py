"""Each arrangement of the short way against a table of what it does, worked out by hand: common practice, no source.

The two-port table is the usual one: each valve by its own call, the boiler by any end switch. Those of three-port
valves are held against published tables elsewhere; here they are tried in a whole house. An unvented cylinder's heat
is cut by a valve that shuts when its supply is lost: Approved Document G, 3.31.
"""

from collections.abc import Mapping
from datetime import date

import pytest

from generator.catalogue.parts import LoadKind
from generator.circuit.model import ZoneIntent
from generator.findings.finding import Severity
from generator.pipeline import Examination, examine_text
from generator.states.answer import Answer, Solution
from generator.states.solve import solve
from generator.states.water import water_answer
from tests.short_houses import ARRANGEMENTS, short_house

TODAY = date(2026, 11, 25)
OFF = "boiler off"
"""The boiler is not called; everywhere else in the tables it is."""

Row = frozenset[str]
Table = Mapping[str, tuple[str, ...]]
"""Zones that call, joined by a space -> what is open or runs; more than one where it depends on what came before."""

_TWO_PORT: Table = {
    "": (OFF,),
    "heating": ("heating-valve.open pump",),
    "hot-water": ("hot-water-valve.open pump",),
    "heating hot-water": ("heating-valve.open hot-water-valve.open pump",),
}
_MID: Table = {
    # At rest from hot water, at heating from heating, with the motor powered all night.
    "": (f"{OFF} mid-position-valve.open-water", f"{OFF} mid-position-valve.open-heating"),
    "heating": ("mid-position-valve.open-heating pump",),
    "hot-water": ("mid-position-valve.open-water pump",),
    "heating hot-water": ("mid-position-valve.open-heating mid-position-valve.open-water pump",),
}
_DIVERTER: Table = {
    "": (f"{OFF} diverter-valve.open-water",),
    "heating": ("diverter-valve.open-heating pump",),
    "hot-water": ("diverter-valve.open-water pump",),
    # Hot water first.
    "heating hot-water": ("diverter-valve.open-water pump",),
}
_GRAVITY: Table = {
    "": (OFF,),
    # Heating alone cannot be: its channel brings hot water.
    "hot-water": ("",),
    "heating hot-water": ("pump",),
}
_GRAVITY_VALVE: Table = {
    "": (OFF,),
    "heating": ("pump",),
    "hot-water": ("hot-water-valve.open",),
    "heating hot-water": ("hot-water-valve.open pump",),
}
_COMBINATION: Table = {
    "": (OFF,),
    "down": ("down-valve.open boiler",),
    "up": ("up-valve.open boiler",),
    "down up": ("down-valve.open up-valve.open boiler",),
}
_FLOORS: Table = {
    "": (OFF,),
    "down": ("down-actuator.open down-actuator-2.open blending-set pump",),
    "up": ("up-actuator.open blending-set pump",),
    "down up": ("down-actuator.open down-actuator-2.open up-actuator.open blending-set pump",),
}
_FLOOR_AND_WATER: Table = {
    "": (OFF,),
    "heating": ("heating-actuator.open blending-set pump",),
    "hot-water": ("hot-water-valve.open pump",),
    "heating hot-water": ("heating-actuator.open hot-water-valve.open blending-set pump",),
}
_MIXED: Table = {
    "": (OFF,),
    "down": ("down-actuator.open blending-set pump",),
    "up": ("up-valve.open pump",),
    "down up": ("down-actuator.open up-valve.open blending-set pump",),
    "hot-water": ("hot-water-valve.open pump",),
    "down hot-water": ("down-actuator.open hot-water-valve.open blending-set pump",),
    "up hot-water": ("up-valve.open hot-water-valve.open pump",),
    "down up hot-water": ("down-actuator.open up-valve.open hot-water-valve.open blending-set pump",),
}
_HEADER: Table = {
    "": (OFF,),
    "heating": ("heating-pump pump",),
    "hot-water": ("hot-water-pump pump",),
    "heating hot-water": ("heating-pump hot-water-pump pump",),
}
_STORE: Table = {
    "": (OFF,),
    # Rooms draw from the store, whether or not the boiler heats it.
    "rooms": (f"{OFF} rooms-pump",),
    "store": ("pump",),
    "store rooms": ("pump rooms-pump",),
}


def _with_valve_in_series(table: Table) -> Table:
    """A two-port valve before the cylinder as well, open while hot water calls."""
    return {
        calls: tuple(f"{row} hot-water-valve.open" if "hot-water" in calls.split() else row for row in rows)
        for calls, rows in table.items()
    }


TABLES: Mapping[str, Table] = {
    "two-port": _TWO_PORT,
    "two-port, orange fed, unvented": _TWO_PORT,
    "mid-position": _MID,
    "mid-position, unvented": _with_valve_in_series(_MID),
    "mid-position, clock on the wall": _MID,
    "diverter": _DIVERTER,
    "diverter, unvented": _with_valve_in_series(_DIVERTER),
    "diverter, clock on the wall": _DIVERTER,
    "gravity-hot-water": _GRAVITY,
    "gravity-hot-water-with-valve": _GRAVITY_VALVE,
    "gravity-hot-water-with-valve, clock on the wall": _GRAVITY_VALVE,
    "combination": _COMBINATION,
    "combination, volt-free": _COMBINATION,
    "underfloor": _FLOORS,
    "underfloor, volt-free": _FLOORS,
    "underfloor, volt-free, unvented": _FLOOR_AND_WATER,
    "underfloor-and-radiators": _MIXED,
    "underfloor-and-radiators, overrun": _MIXED,
    "header-with-zone-pumps": _HEADER,
    "header-with-zone-pumps, volt-free, unvented": {
        calls: tuple(f"{row} hot-water-valve.open" if "hot-water" in calls else row for row in rows)
        for calls, rows in _HEADER.items()
    },
    "thermal-store": _STORE,
}


def _examined(name: str) -> Examination:
    return examine_text(short_house(name), today=TODAY, file="XX-1.yaml")


def _solved(name: str) -> Solution:
    solution = _examined(name).solution
    assert solution is not None
    return solution


def _calls(zone: ZoneIntent, values: Mapping[str, bool]) -> bool:
    """Whether a zone calls: its thermostat does, and its channel or one that brings it along is on."""
    timed = not zone.channel or any(values[name] for name in (zone.channel, *zone.channel_also))
    return timed and (not zone.thermostat or values[f"{zone.thermostat}.calling"])


def _found(solution: Solution, answer: Answer, state: int) -> Row:
    """What is open, which pumps run, and whether the boiler is not called."""

    def is_on(vector: int) -> bool:
        return bool(vector >> state & 1)

    found = {
        name
        for name, vector in answer.on.items()
        if is_on(vector) and name.rpartition(".")[2] in ("open", "open-heating", "open-water")
    }
    for load in solution.circuit.loads:
        if load.kind is LoadKind.PUMP and is_on(answer.fed[load.name]):
            found.add(load.name.split(".", 1)[0])
    if not is_on(answer.on["boiler.firing"]):
        found |= set(OFF.split())
    return frozenset(found)


def test_every_arrangement_has_its_table() -> None:
    assert list(TABLES) == list(ARRANGEMENTS)


@pytest.mark.parametrize("name", TABLES)
def test_in_every_state_the_house_does_what_the_table_says(name: str) -> None:
    solution = _solved(name)
    table = {
        frozenset(calls.split()): {frozenset(row.split()) for row in rows}
        for calls, rows in TABLES[name].items()
    }
    seen: dict[Row, set[Row]] = {}
    assert not solution.hunting
    for state in range(solution.space.size):
        values = solution.inputs_in(state)
        calls = frozenset(zone.name for zone in solution.circuit.zones if _calls(zone, values))
        for answer in solution.answers:
            if answer.at >> state & 1:
                row = _found(solution, answer, state)
                assert row in table[calls], (sorted(calls), sorted(row), values)
                seen.setdefault(calls, set()).add(row)
    assert seen == table


@pytest.mark.parametrize("name", TABLES)
def test_nothing_is_found_that_is_more_than_a_note(name: str) -> None:
    """But for gravity hot water as found, whose cylinder nothing stops."""
    findings = [item for item in _examined(name).findings if item.severity > Severity.NOTE]
    expected = ["stored-water-without-thermostat"] if name == "gravity-hot-water" else []
    assert [item.rule for item in findings] == expected


@pytest.mark.parametrize("name", TABLES)
def test_a_pump_that_runs_always_has_a_way(name: str) -> None:
    solution = _solved(name)
    for answer in solution.answers:
        assert water_answer(solution, answer).dead_head == 0


@pytest.mark.parametrize(
    "name", [name for name, lines in ARRANGEMENTS.items() if "cylinder: unvented" in lines]
)
def test_supply_lost_or_cut_out_tripped_shuts_the_cylinder(name: str) -> None:
    """Approved Document G, 3.31: without power the valve shuts; and the cut-out takes its power away."""
    circuit = _solved(name).circuit
    for held in ({"spur.isolator": False}, {"cylinder.cut-out": True}):
        for answer in solve(circuit, held).answers:
            assert answer.on["hot-water-valve.open"] & answer.at == 0
