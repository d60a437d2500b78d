"""What is said of a set of states is read back word by word, and must give exactly that set."""

import re
from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from generator.circuit.model import Circuit
from generator.rules.states_in_words import any_call, call_of, states_in_words
from generator.states.space import StateSpace, states_in
from tests.circuits import house

HOUSE: Circuit = house(
    devices={
        "programmer": ("programmer", {"channels": 3}),
        "hall-thermostat": "room-thermostat",
        "loft-thermostat": "room-thermostat",
        "water-thermostat": "cylinder-thermostat",
    },
    zones={
        "hall": {"serves": "heating", "channel": "programmer.1", "thermostat": "hall-thermostat"},
        "loft": {"serves": "heating", "channel": "programmer.1", "thermostat": "loft-thermostat"},
        "hot-water": {"serves": "hot water", "channel": "programmer.2", "thermostat": "water-thermostat"},
    },
)
CHANNELS = tuple(f"programmer.channel-{number}" for number in (1, 2, 3))
STATS = tuple(f"{name}-thermostat.calling" for name in ("hall", "loft", "water"))
SPACE = StateSpace((*CHANNELS, *STATS))


def read_back(text: str, space: StateSpace) -> int:
    """The states that the words mean, found one condition at a time; fails on words that it does not know."""
    if text == "in no state":
        return 0
    if text == "in every state":
        return space.everywhere
    opening = "in every state except "
    if text.startswith(opening):
        return space.everywhere & ~_terms(text.removeprefix(opening), space)
    return _terms(text, space)


def _terms(text: str, space: StateSpace) -> int:
    vector = 0
    for term in text.split(", or "):
        word, _, conditions = term.partition(" ")
        assert word in ("while", "whenever"), text
        here = space.everywhere
        for condition in conditions.split(" and "):
            here &= _condition(condition, space)
        vector |= here
    return vector


def _condition(words: str, space: StateSpace) -> int:
    anything = any_call(space, HOUSE)
    if words == "nothing calls":
        return space.everywhere & ~anything
    if words == "anything calls":
        return anything
    if match := re.fullmatch(r"channel (\d) of the programmer is (on|off)", words):
        return _input(f"programmer.channel-{match[1]}", match[2] == "on", space)
    if match := re.fullmatch(r"the (\w+) thermostat is (calling for heat|satisfied)", words):
        return _input(f"{match[1]}-thermostat.calling", match[2] != "satisfied", space)
    match = re.fullmatch(r"(.+?) (calls|does not call)", words)
    assert match, words
    call = call_of(space, next(zone for zone in HOUSE.zones if zone.name == match[1].replace(" ", "-")))
    return call if match[2] == "calls" else space.everywhere & ~call


def _input(name: str, on: bool, space: StateSpace) -> int:
    return space.where(name) if on else space.everywhere & ~space.where(name)


spaces = st.lists(st.sampled_from(SPACE.inputs), min_size=1, max_size=6, unique=True).map(
    lambda names: StateSpace(tuple(names))
)


@st.composite
def vectors(draw: st.DrawFn) -> tuple[StateSpace, int]:
    """A space and a set of its states, made of few conditions as often as of random bits."""
    space = draw(spaces)
    if draw(st.booleans()):
        return space, draw(st.integers(min_value=0, max_value=space.everywhere))
    vector = 0
    for _ in range(draw(st.integers(min_value=1, max_value=3))):
        term = space.everywhere
        for name in draw(st.lists(st.sampled_from(space.inputs), max_size=3)):
            term &= _input(name, draw(st.booleans()), space)
        vector |= term
    return space, vector


@given(vectors())
def test_words_mean_the_states(drawn: tuple[StateSpace, int]) -> None:
    space, vector = drawn
    wording = states_in_words(vector, space, HOUSE)
    if wording.exact:
        assert read_back(wording.text, space) == vector
        return
    match = re.fullmatch(
        r"in (\d+) of (\d+) states, for example with (?:only (.+)|every control off)", wording.text
    )
    assert match
    assert int(match[1]) == len(list(states_in(vector)))
    assert int(match[2]) == space.size


def _conditions_of(text: str) -> list[int]:
    """How many conditions each alternative has, in the order told."""
    return [len(term.split(" and ")) for term in text.split(", or ")]


@given(vectors())
def test_the_shortest_alternative_comes_first(drawn: tuple[StateSpace, int]) -> None:
    space, vector = drawn
    wording = states_in_words(vector, space, HOUSE)
    counts = _conditions_of(wording.text) if wording.exact else []
    assert counts == sorted(counts), wording.text


@given(vectors())
def test_what_one_or_two_conditions_say_is_said_by_no_more(drawn: tuple[StateSpace, int]) -> None:
    space, vector = drawn
    single = [_input(name, on, space) for name in space.inputs for on in (True, False)]
    wording = states_in_words(vector, space, HOUSE)
    if vector in single:
        assert wording.exact
        assert _conditions_of(wording.text) == [1]
    elif any(one & other == vector or one | other == vector for one, other in combinations(single, 2)):
        assert wording.exact
        assert sum(_conditions_of(wording.text)) <= 2


def test_the_shortest_comes_first_whatever_the_order_of_the_controls() -> None:
    long = where(ch_3=True, stat_loft=True)
    for short in ({"ch_1": True}, {"stat_hall": False}):
        first, second = said(where(**short) | long).split(", or ")
        assert (_conditions_of(first), _conditions_of(second)) == ([1], [2])


def where(**inputs: bool) -> int:
    vector = SPACE.everywhere
    for name, on in inputs.items():
        group, _, rest = name.partition("_")
        whole = f"programmer.channel-{rest}" if group == "ch" else f"{rest}-thermostat.calling"
        vector &= _input(whole, on, SPACE)
    return vector


def said(vector: int) -> str:
    return states_in_words(vector, SPACE, HOUSE).text


def test_plain_cases() -> None:
    anything = any_call(SPACE, HOUSE)
    assert said(0) == "in no state"
    assert said(SPACE.everywhere) == "in every state"
    assert said(anything) == "whenever anything calls"
    assert said(SPACE.everywhere & ~anything) == "while nothing calls"
    assert said(where(ch_2=True, stat_water=True)) == "whenever hot water calls"
    assert said(where(stat_hall=False)) == "whenever the hall thermostat is satisfied"


def test_two_conditions() -> None:
    vector = where(ch_2=True, stat_water=True) & where(ch_1=False)
    assert said(vector) == "whenever hot water calls and channel 1 of the programmer is off"


def test_exception() -> None:
    vector = SPACE.everywhere & ~where(ch_1=True, ch_2=False, ch_3=True)
    assert said(vector) == (
        "in every state except while channel 1 of the programmer is on and channel 2 of the programmer is off "
        "and channel 3 of the programmer is on"
    )


def test_too_long_gives_an_example() -> None:
    parity = 0
    for name in SPACE.inputs:
        parity ^= SPACE.where(name)
    wording = states_in_words(parity, SPACE, HOUSE)
    assert not wording.exact
    assert wording.text == "in 32 of 64 states, for example with only channel 1 of the programmer on"


def test_many_controls() -> None:
    """Past eight controls only whole zones are tried; here all of them together."""
    wide = house(
        devices={name: ("programmer", {"channels": 4}) for name in "abc"},
        zones={
            f"zone-{device}{number}": {"serves": "heating", "channel": f"{device}.{number}"}
            for device in "abc"
            for number in (1, 2, 3, 4)
        },
    )
    space = StateSpace(tuple(item.name for item in wide.called_inputs))
    anything = any_call(space, wide)
    assert states_in_words(anything, space, wide).text == "whenever anything calls"
    assert states_in_words(space.everywhere & ~anything, space, wide).text == "while nothing calls"
    odd = anything & ~space.where("a.channel-1")
    assert states_in_words(odd, space, wide).text == (
        "in 2047 of 4096 states, for example with only channel 2 of the a on"
    )
