"""A call second by second, against times worked out by hand from the travel times of the parts."""

from generator.states.solve import solve
from generator.states.timeline import Brief, Timeline, moment_in, run, simulate_call
from tests.stock import two_port
from tests.three_port_houses import mid_position

HEAT = ("programmer.channel-2", "room.calling")
WATER = ("programmer.channel-1", "tank.calling")
TWO = {"hot-water": "hot water", "heating": "heating"}


def _told(timeline: Timeline) -> list[tuple[float, str, str]]:
    return [(change.at_s, change.part, change.words) for change in timeline.changes]


def test_two_port_call_and_its_end() -> None:
    call = simulate_call(solve(two_port(TWO)), ("programmer.channel-2", "heating-thermostat.calling"))
    assert call is not None
    assert call.ended_s == 60.0
    assert _told(call.timeline) == [
        (0.0, "programmer.channel-2", "on"),
        (0.0, "heating-thermostat.calling", "calling for heat"),
        (12.0, "heating-valve.open", "open"),
        (12.0, "heating-valve.end-switch", "made"),
        (13.0, "pump.running", "running"),
        (17.0, "boiler.firing", "called"),
        (60.0, "programmer.channel-2", "off"),
        (60.0, "heating-thermostat.calling", "satisfied"),
        (60.5, "heating-valve.end-switch", "broken"),
        (61.5, "boiler.firing", "off"),
        (61.5, "pump.running", "off"),
        (66.0, "heating-valve.open", "shut"),
    ]
    assert call.timeline.brief == ()


def test_overrun_holds_the_pump_for_its_time() -> None:
    call = simulate_call(
        solve(two_port(TWO, overrun=True)), ("programmer.channel-2", "heating-thermostat.calling")
    )
    assert call is not None
    assert call.overrun_s == 300.0
    told = {(part, words): at_s for at_s, part, words in _told(call.timeline)}
    assert told["boiler.firing", "off"] == 61.5
    assert told["heating-valve.open", "shut"] == 66.0
    assert told["boiler.overrun", "ended"] == 360.0
    assert told["pump.running", "off"] == 361.5


def test_mid_position_heating_alone() -> None:
    """The valve goes past the middle to heating, and only its second switch calls the boiler."""
    call = simulate_call(solve(mid_position()), HEAT)
    assert call is not None
    told = {(part, words): at_s for at_s, part, words in _told(call.timeline)}
    assert told["valve.open-heating", "open"] == 9.0
    assert told["valve.open-water", "shut"] == 18.0
    assert told["boiler.firing", "called"] == 23.0
    assert call.timeline.end.driven["valve.past-2"], "after heating alone the motor stays powered at heating"


def test_mid_position_change_over_feeds_white_from_orange_on_the_way() -> None:
    """Orange is live from the cylinder thermostat while the second switch still joins it to white."""
    solution = solve(mid_position())
    start = moment_in(solution, solution.settled, solution.space.state(HEAT))
    changes = {**dict.fromkeys(HEAT, False), **dict.fromkeys(WATER, True)}
    went = run(solution.circuit, start, [(0.0, changes)])
    assert went.quiet
    assert went.brief == (Brief(point="room.call", backward=True, from_s=0.0, to_s=4.0),)
    assert not went.end.driven["valve.past-1"]


def test_mid_position_both_then_heating_then_neither_stays_at_heating() -> None:
    solution = solve(mid_position())
    rest = moment_in(solution, solution.settled, 0)
    steps = [
        (0.0, dict.fromkeys((*HEAT, *WATER), True)),
        (100.0, dict.fromkeys(WATER, False)),
        (200.0, dict.fromkeys(HEAT, False)),
    ]
    went = run(solution.circuit, rest, steps)
    told = [(at_s, part, words) for at_s, part, words in _told(went) if part == "valve.past-2"]
    assert told == [(109.0, "valve.past-2", "operated")]
    assert went.end.driven["valve.past-2"]


def test_a_call_shorter_than_the_travel_opens_nothing() -> None:
    solution = solve(two_port(TWO))
    call = ("programmer.channel-2", "heating-thermostat.calling")
    rest = moment_in(solution, solution.settled, 0)
    went = run(solution.circuit, rest, [(0.0, dict.fromkeys(call, True)), (11.0, dict.fromkeys(call, False))])
    assert {part for _, part, _ in _told(went)} == set(call)
