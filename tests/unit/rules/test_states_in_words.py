"""In which states something is so, in the words that an engineer would choose: sets of states made by hand."""

from generator.rules.rule import When
from generator.rules.states_in_words import any_call, call_of, state_in_words, states_in_words, when_in_words
from generator.states.space import StateSpace
from tests.circuits import Kinds, house

DEVICES: Kinds = {
    "clock": ("programmer", {"channels": 3}),
    "up-stat": "room-thermostat",
    "down-stat": "room-thermostat",
    "water-stat": "cylinder-thermostat",
}
ZONES = {
    "store": {"serves": "heating"},
    "up": {"serves": "heating", "channel": "clock.1", "thermostat": "up-stat"},
    "down": {"serves": "heating", "channel": "clock.1", "thermostat": "down-stat"},
    "water": {"serves": "hot water", "channel": "clock.2", "thermostat": "water-stat"},
}
CIRCUIT = house(devices=DEVICES, zones=ZONES)
WITH_FROST = house(devices={**DEVICES, "frost": "frost-thermostat"}, zones=ZONES)
INPUTS = (
    "clock.channel-1",
    "clock.channel-2",
    "clock.channel-3",
    "up-stat.calling",
    "down-stat.calling",
    "water-stat.calling",
)
SPACE = StateSpace(INPUTS)
CHANNEL_1, CHANNEL_2, CHANNEL_3, UP_STAT, DOWN_STAT, WATER_STAT = (SPACE.where(name) for name in INPUTS)
UP, DOWN, WATER = CHANNEL_1 & UP_STAT, CHANNEL_1 & DOWN_STAT, CHANNEL_2 & WATER_STAT
ANY = UP | DOWN | WATER
EVERY = SPACE.everywhere


def said(vector: int) -> str:
    wording = states_in_words(vector, SPACE, CIRCUIT)
    assert wording.exact
    return wording.text


def test_what_calls() -> None:
    """A zone without controls never calls."""
    store, up, down, water = CIRCUIT.zones
    assert [call_of(SPACE, zone) for zone in (store, up, down, water)] == [0, UP, DOWN, WATER]
    assert any_call(SPACE, CIRCUIT) == ANY


def test_frost_calls_by_design() -> None:
    """It is the last of seven inputs: it calls in the second half of the states."""
    space = StateSpace((*INPUTS, "frost.calling"))
    frost = space.where("frost.calling")
    anything = frost | (ANY | ANY << SPACE.size)
    assert any_call(space, WITH_FROST) == anything
    assert states_in_words(anything, space, WITH_FROST).text == "whenever anything calls"
    assert states_in_words(space.everywhere & ~anything, space, WITH_FROST).text == "while nothing calls"


def test_shortest_words() -> None:
    assert said(0) == "in no state"
    assert said(EVERY) == "in every state"
    assert said(ANY) == "whenever anything calls"
    assert said(EVERY & ~ANY) == "while nothing calls"
    assert said(UP) == "whenever up calls"
    assert said(EVERY & ~UP) == "whenever up does not call"
    assert said(UP & ~WATER) == "whenever up calls and water does not call"
    assert said(UP & DOWN) == "whenever up calls and down calls"
    assert said(UP_STAT) == "whenever the up stat is calling for heat"
    assert said(EVERY & ~UP_STAT) == "whenever the up stat is satisfied"
    assert said(CHANNEL_3) == "whenever channel 3 of the clock is on"
    assert said(EVERY & ~CHANNEL_3) == "whenever channel 3 of the clock is off"
    assert said(UP & CHANNEL_3) == "whenever up calls and channel 3 of the clock is on"


def test_all_zones_together() -> None:
    assert said(ANY & CHANNEL_3) == "whenever anything calls and channel 3 of the clock is on"
    assert said(CHANNEL_3 & ~ANY) == "while nothing calls and channel 3 of the clock is on"


def test_alternatives_and_exceptions() -> None:
    assert said(UP | WATER) == "whenever up calls, or whenever water calls"
    assert said(EVERY & ~(UP & WATER)) == "in every state except while up calls and water calls"


FIVE = house(
    devices={
        "clock": ("programmer", {"channels": 4}),
        **{f"stat-{number}": "room-thermostat" for number in range(1, 6)},
    },
    zones={
        f"zone-{number}": {"serves": "heating", "channel": f"clock.{number}", "thermostat": f"stat-{number}"}
        for number in range(1, 5)
    },
)


def test_eight_controls_are_described_and_of_nine_an_example_is_given() -> None:
    """Four zones of a channel and a thermostat each call at once; or a ninth control is on."""
    inputs = [f"clock.channel-{number}" for number in range(1, 5)] + [
        f"stat-{number}.calling" for number in range(1, 6)
    ]
    space = StateSpace(tuple(inputs))
    four = space.everywhere
    for zone in FIVE.zones:
        four &= call_of(space, zone)
    exact = states_in_words(four, space, FIVE)
    assert (exact.text, exact.exact) == (
        "whenever zone 1 calls and zone 2 calls and zone 3 calls and zone 4 calls",
        True,
    )
    more = states_in_words(four | space.where("stat-5.calling"), space, FIVE)
    # Half of the 512 states, and one of the other half.
    assert (more.text, more.exact) == (
        "in 257 of 512 states, for example with only the stat 5 calling for heat",
        False,
    )


def test_too_long_a_description_is_an_example() -> None:
    """An odd number of four thermostats calls."""
    space = StateSpace(tuple(f"stat-{number}.calling" for number in range(1, 5)))
    odd = sum(1 << state for state in range(16) if state.bit_count() % 2)
    wording = states_in_words(odd, space, FIVE)
    assert (wording.text, wording.exact) == (
        "in 8 of 16 states, for example with only the stat 1 calling for heat",
        False,
    )


def test_one_state() -> None:
    assert state_in_words(0, SPACE, CIRCUIT) == "with every control off"
    assert state_in_words(0b001001, SPACE, CIRCUIT) == (
        "with only channel 1 of the clock on and the up stat calling for heat"
    )


def test_states_of_no_history() -> None:
    assert when_in_words(When(UP), SPACE, CIRCUIT) == "whenever up calls"
    assert when_in_words(When(0), SPACE, CIRCUIT) == ""


def test_two_zones_of_one_name_are_told_by_the_first() -> None:
    """Two flats have each a `Lounge`; a third zone behind them is told by its own name."""
    zones = {
        "lounge": {**ZONES["up"], "name": "Lounge"},
        "second": {**ZONES["down"], "name": "lounge"},
        "water": ZONES["water"],
    }
    circuit = house(devices=DEVICES, zones=zones)
    small = StateSpace(INPUTS)
    words = {zone.name: zone.words for zone in circuit.zones}
    assert words["lounge"].lower() == words["second"].lower()
    assert states_in_words(WATER, small, circuit).text == "whenever water calls"
    assert states_in_words(UP, small, circuit).text.endswith(" calls")
