"""What a call needs, over the demo stock: nothing is said to be missing in a house that works."""

from datetime import date
from functools import cache

import pytest

from generator.pipeline import examine
from generator.states.solve import solve
from generator.views.call_chain import call_map
from generator.views.needs import needed_boilers, needed_pumps
from generator.views.shown_states import shown_states
from generator.views.story import ZoneStory, zone_stories
from tests.stock import recorded_circuits
from tests.stock_expectations import BOILER_CALLED, FAULTY
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 25)


@cache
def _stories(reference: str) -> tuple[ZoneStory, ...]:
    solution = examine(PROPERTIES / f"{reference}.yaml", today=TODAY).solution
    assert solution is not None
    return zone_stories(solution, shown_states(solution.circuit))


@pytest.mark.parametrize("reference", sorted(set(BOILER_CALLED) - set(FAULTY)))
def test_nothing_is_missing_in_a_house_that_works(reference: str) -> None:
    assert [(story.zone.name, story.missing) for story in _stories(reference) if story.missing] == []


def test_what_each_zone_needs() -> None:
    def needs(reference: str) -> dict[str, tuple[list[str], list[list[str]]]]:
        circuit = recorded_circuits()[reference]
        return {
            zone.name: (
                [device.name for device in needed_boilers(circuit, zone)],
                [[device.name for device in group] for group in needed_pumps(circuit, zone)],
            )
            for zone in circuit.zones
        }

    assert needs("EB-0012") == {"heating": (["boiler"], [["pump"]]), "hot-water": (["boiler"], [["pump"]])}
    # By gravity no pump; heating has its own.
    assert needs("EB-0142") == {"hot-water": (["boiler"], []), "heating": (["boiler"], [["pump"]])}
    # Behind a header the zone's pump and the boiler's.
    assert needs("EB-0160")["first"] == (["boiler"], [["first-pump"], ["pump"]])
    # Rooms draw from the store, whatever the boiler does.
    assert needs("EB-0164")["living"] == ([], [["living-pump"]])
    assert needs("EB-0164")["store"] == (["boiler"], [["pump"]])
    # The stove's pump is the stove's.
    assert needs("EB-0175")["heating"] == (["boiler"], [["pump"]])


def test_a_boiler_called_volt_free_is_told_of() -> None:
    (story, _) = _stories("EB-0149")
    told = [(event.happens, event.says) for event in story.events]
    assert [happens for happens, _ in told] == [
        "The downstairs valve opens and its end switch is made",
        "The combination boiler is called",
        "The pump inside the boiler runs",
    ]
    assert told[1][1] == (
        "Joined, with no mains on it, from combination boiler call-a, by the BK core to terminal P, by the GY core to "
        "downstairs valve switch-a, through the downstairs valve end switch (made) to downstairs valve switch-b, by the "
        "OG core to terminal Q, by the RD core to combination boiler call-b."
    )


def test_a_zone_controller_stands_between_thermostat_and_actuators() -> None:
    solution = solve(recorded_circuits()["EB-0156"])
    states = shown_states(solution.circuit)
    drawn = call_map(solution, states, zone_stories(solution, states), title="calls")
    assert drawn is not None
    words = {node.id: node.words for node in drawn.nodes}
    edges = {(words[edge.start], words[edge.end]) for edge in drawn.edges}
    assert {
        ("Programmer channel 2", "Kitchen thermostat"),
        ("Kitchen thermostat", "Underfloor controller"),
        ("Underfloor controller", "Actuator of the north loop"),
        ("Underfloor controller", "Boiler"),
    } <= edges


@pytest.mark.parametrize(("reference", "kind"), [("EB-0012", "boiler"), ("EB-0167", "heat pump")])
def test_what_gives_the_heat_is_called_what_it_is_in_the_call_map(reference: str, kind: str) -> None:
    solution = solve(recorded_circuits()[reference])
    states = shown_states(solution.circuit)
    drawn = call_map(solution, states, zone_stories(solution, states), title="calls")
    assert drawn is not None
    assert {"boiler", "heat pump"} & {node.kind for node in drawn.nodes} == {kind}
