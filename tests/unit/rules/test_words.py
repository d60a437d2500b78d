"""Words for cores, conductors, devices and paths, as an engineer says them."""

import pytest

from generator.rules.words import (
    and_so_on,
    colour_of,
    colour_words,
    conductor_name,
    device_name,
    lets_through,
    plain,
    terminal_of,
    the_conductor,
    the_load,
    way,
)
from generator.states.trace import Step
from tests.circuits import house


@pytest.mark.parametrize(
    ("core", "code", "words"),
    [
        ("BN", "BN", "brown"),
        ("BN2", "BN", "brown"),
        ("BK10", "BK", "black"),
        ("GNYE", "GNYE", "green-and-yellow"),
        ("BNWH", "BNWH", "brown and white"),
        ("XX", "XX", "XX"),
        ("BNXX", "BNXX", "BNXX"),
        ("XXBN", "XXBN", "XXBN"),
    ],
)
def test_colours(core: str, code: str, words: str) -> None:
    """Letter codes of IEC 60757; a number tells cores of one colour apart, and two codes are a core of two colours."""
    assert colour_of(core) == code
    assert colour_words(core) == words


@pytest.mark.parametrize(
    ("words", "told"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists(words: list[str], told: str) -> None:
    assert and_so_on(words) == told


def test_another_word_between_the_last_two() -> None:
    assert and_so_on(["a", "b", "c"], "or") == "a, b or c"


@pytest.mark.parametrize(
    ("words", "told"),
    [("Hall valve", "hall valve"), ("HALL VALVE", "hall valve"), ("Valve of the hall", "Valve of the hall")],
)
def test_words_made_from_a_key_begin_small_and_others_stay(words: str, told: str) -> None:
    assert plain("hall-valve", words) == told


CIRCUIT = house(
    devices={
        "spur": "fused-spur",
        "valve": "two-port-valve",
        "mid": "three-port-mid-position-valve",
        "pump": "pump",
    },
    conductors=[("spur.L", "valve.motor", "BN")],
    links=[["valve.switch-a", "valve.switch-b"]],
)


def test_conductors_and_links() -> None:
    core, link = CIRCUIT.conductors
    assert conductor_name(core) == "spur BN"
    assert the_conductor(core) == "the brown core (BN) of cable `spur`"
    assert conductor_name(link) == "link valve.switch-a valve.switch-b"
    assert the_conductor(link) == "the link from `valve.switch-a` to `valve.switch-b`"


@pytest.mark.parametrize(
    ("opens", "words"),
    [
        ("valve.open", ("the valve", "opens", "is open")),
        ("mid.open-heating", ("the mid", "opens to heating", "is open to heating")),
        ("mid.open-water", ("the mid", "opens to hot water", "is open to hot water")),
        ("pump.running", ("the pump", "runs", "runs")),
    ],
)
def test_what_lets_water_through(opens: str, words: tuple[str, str, str]) -> None:
    assert lets_through(CIRCUIT, opens) == words


def test_loads() -> None:
    told = {load.name: the_load(CIRCUIT, load) for load in CIRCUIT.loads}
    assert told["valve.motor"] == "the valve motor of the valve"
    assert told["pump.motor"] == "the pump"


def test_a_path_leaves_out_what_no_probe_reaches() -> None:
    steps = (
        Step(start="spur.mains-line", to="spur.L", conductor=None, contact=CIRCUIT.contacts[0]),
        Step(start="spur.L", to="valve.motor", conductor=CIRCUIT.conductors[0], contact=None),
    )
    assert way(CIRCUIT, steps) == "`spur.L` > `valve.motor`"


def test_a_terminal_may_have_a_full_stop_in_it() -> None:
    assert (device_name("pump.a.b"), terminal_of("pump.a.b")) == ("pump", "a.b")
