"""What came before, in words: results from each start, the way there, and the shown states that carry a history."""

from generator.circuit.model import Circuit
from generator.states.answer import Solution
from generator.states.solve import solve
from generator.views.history import histories, with_histories
from generator.views.readings import read_states
from generator.views.shown_states import answer_for, shown_states
from generator.views.story import zone_stories
from tests.circuits import house
from tests.three_port import mid_position


def solved() -> Solution:
    solution = mid_position().solution
    assert solution is not None
    return solution


def test_states_with_a_history_follow_those_without() -> None:
    solution = solved()
    states = with_histories(solution, shown_states(solution.circuit))
    assert [state.id for state in states] == [
        "rest",
        "rest-after-1",
        "timers",
        "timers-after-1",
        "zone-1",
        "zone-2",
        "all",
    ]
    after = states[1]
    assert after.short == "Nothing calls, after heating alone"
    assert after.words == "nothing calls, after heating alone"
    assert after.on == ()


def test_a_shown_state_stands_for_its_own_result() -> None:
    solution = solved()
    rest, warm, *_ = with_histories(solution, shown_states(solution.circuit))
    assert answer_for(solution, rest) is solution.settled
    answer = answer_for(solution, warm)
    assert answer is not solution.settled
    assert answer.fed["valve.motor"] & 1
    assert not solution.settled.fed["valve.motor"] & 1


def test_results_from_each_start() -> None:
    solution = solved()
    first, *_ = histories(solution, with_histories(solution, shown_states(solution.circuit)))
    cold, warm = first.results
    assert cold.stands.startswith("The valve is open to hot water only and its motor has half the supply")
    assert warm.stands == "The valve is open to heating only and its motor stays powered and warm"
    assert warm.note.startswith("This is no fault: the motor takes about 6 W")
    assert cold.note == ""
    assert [start.words for start in cold.starts] == [
        "when the supply comes on",
        "after a time in which every timer channel is on and every thermostat is satisfied",
        "after hot water alone",
    ]
    assert {start.words: start.way for start in warm.starts} == {
        "after heating alone": "the boiler stops after 1 s, then the pump stops after 1 s",
        "after hot water and heating together": "the boiler stops after 1 s, then the pump stops after 1 s, "
        "then the valve shuts to hot water after 9 s",
    }


def test_readings_differ_by_history() -> None:
    """From rest white hangs on the diode; after heating alone it hangs on nothing but the motor."""
    solution = solved()
    states = with_histories(solution, shown_states(solution.circuit))
    cold, warm = read_states(solution, states[:2])
    assert cold.by_terminal["valve.heat"].shown != warm.by_terminal["valve.heat"].shown
    assert cold.by_terminal["valve.water-off"].word == warm.by_terminal["valve.water-off"].word == "live"
    assert not cold.volts.driven["valve.past-2"]
    assert warm.volts.driven["valve.past-2"]


def test_account_of_heating_alone() -> None:
    solution = solved()
    stories = zone_stories(solution, with_histories(solution, shown_states(solution.circuit)))
    heating = next(story for story in stories if story.zone.serves == "heating")
    assert [(event.happens, event.done_s) for event in heating.events] == [
        ("The valve opens to heating", 9.0),
        ("The valve shuts to hot water", 18.0),
        ("The boiler is called", 18.0),
        ("The pump runs", 19.0),
    ]
    assert heating.missing == ()
    assert heating.ends.endswith("the motor of the valve stays powered.")


def held_on() -> Circuit:
    """A boiler whose pump output is joined to its own switched live."""
    return house(
        devices={
            "spur": "fused-spur",
            "hall-thermostat": "room-thermostat",
            "boiler": ("boiler", {"pump_output": True}),
            "pump": "pump",
        },
        conductors=[
            ("spur.L", "hall-thermostat.common", "BN"),
            ("hall-thermostat.call", "boiler.call", "BK"),
            ("spur.L", "boiler.L", "BN", "boiler"),
            ("spur.N", "boiler.N", "BU", "boiler"),
            ("boiler.pump", "pump.L", "GY"),
            ("spur.N", "pump.N", "BU", "pump"),
        ],
        links=[["boiler.pump", "boiler.call"]],
        zones={"hall": {"serves": "heating", "thermostat": "hall-thermostat"}},
    )


def test_any_memory_is_told_not_only_that_of_valves() -> None:
    solution = solve(held_on())
    (history,) = histories(solution, with_histories(solution, shown_states(solution.circuit)))
    off, on = history.results
    assert off.stands.startswith("The boiler is off")
    assert on.stands.startswith("The boiler is called")
    assert on.state.short == "Nothing calls, after hall alone"
    assert [start.words for start in on.starts] == ["after hall alone"]
    assert on.note == ""


def test_nothing_is_said_where_history_does_not_matter() -> None:
    circuit = house(devices={"spur": "fused-spur", "valve": "two-port-valve"})
    solution = solve(circuit)
    states = shown_states(circuit)
    assert with_histories(solution, states) == states
    assert histories(solution, states) == ()
