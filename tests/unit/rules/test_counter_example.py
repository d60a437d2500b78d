"""One state that shows a fault, in words: how a point is joined there, and where it is read. On small circuits, by hand."""

from dataclasses import replace

import pytest

from generator.rules.counter_example import asking, counter_example, drive_of, live_at, shown_live
from generator.rules.example_house import HOUSE
from generator.rules.rule import Subject, When
from tests.circuits import Kinds, house
from tests.unit.rules.looking import subject_of

DEVICES: Kinds = {
    "spur": "fused-spur",
    "stat": "room-thermostat",
    "pump": "pump",
    "valve": "two-port-valve",
    "mid": "three-port-mid-position-valve",
    "actuator": "thermal-actuator",
    "first": "boiler",
    "second": ("boiler", {"demand": "volt-free"}),
    "third": "boiler",
}
SUBJECT: Subject = subject_of(
    HOUSE,
    house(
        devices=DEVICES,
        conductors=[
            ("spur.L", "stat.common", "BN"),
            ("stat.call", "pump.L", "BK"),
            ("spur.N", "pump.N", "BU"),
            ("spur.E", "pump.E", "GNYE"),
        ],
    ),
)
CALLING = SUBJECT.solution.space.where("stat.calling")
AT_REST = SUBJECT.solution.space.everywhere & ~CALLING


def told(vector: int, ref: str, *, to: str = "line", lead: str = "", subject: Subject = SUBJECT) -> str:
    return counter_example(subject, When(vector), ref, to=to, lead=lead)


def test_what_joins_a_point_and_what_is_read_there() -> None:
    assert told(CALLING, "pump.L").replace("229 V", "230 V") == (
        "with only the stat calling for heat: line reaches it by `spur.L` > `stat.common` > `stat.call` > `pump.L`; a meter "
        "shows 230 V from `pump.L` to neutral"
    )
    assert told(AT_REST, "pump.L") == (
        "with every control off: nothing joins `pump.L` to line; a meter shows 0 V from `pump.L` to neutral"
    )


def test_the_state_with_the_fewest_controls_on() -> None:
    assert told(AT_REST | CALLING, "pump.L").startswith("with every control off: ")


@pytest.mark.parametrize(
    ("to", "ref", "words"),
    [
        (
            "neutral",
            "pump.N",
            "neutral reaches it by `spur.N` > `pump.N`; a meter shows 0 V from `pump.N` to neutral",
        ),
        (
            "earth",
            "pump.E",
            "earth reaches it by `spur.E` > `pump.E`; a meter shows 0 V from `pump.E` to earth",
        ),
        ("earth", "first.E", "nothing joins `first.E` to earth; a meter shows 0 V from `first.E` to earth"),
    ],
)
def test_against_what_it_is_read(to: str, ref: str, words: str) -> None:
    assert told(AT_REST, ref, to=to) == f"with every control off: {words}"


def test_words_before_it() -> None:
    assert told(AT_REST, "pump.L", lead="during overrun").startswith(
        "during overrun, with every control off: "
    )


def test_when_there_is_none() -> None:
    assert told(0, "pump.L") == ""
    assert told(AT_REST, "") == ""
    assert told(AT_REST, "pump.L", subject=replace(SUBJECT, telling=False)) == ""
    unfed = subject_of(HOUSE, house(devices={"pump": "pump"}))
    assert told(1, "pump.L", subject=unfed) == ""


def test_a_point_that_is_live() -> None:
    assert live_at(SUBJECT.solution.settled, "pump.L") == CALLING
    assert shown_live(SUBJECT, "pump.L") == told(CALLING, "pump.L")
    assert shown_live(SUBJECT, "pump.N") == ""


@pytest.mark.parametrize(
    ("opens", "drive"),
    [
        ("", ""),
        ("valve.open", "valve.motor"),
        ("pump.running", "pump.L"),
        ("actuator.open", "actuator.L"),
        ("mid.open-heating", ""),
    ],
)
def test_what_drives_a_part(opens: str, drive: str) -> None:
    """A mid-position valve's motor is fed inside, from white or grey."""
    assert drive_of(SUBJECT, opens) == drive


def test_where_a_boiler_is_asked() -> None:
    """The first that has a terminal for it; of one boiler its own, and none of a volt-free demand."""
    circuit = SUBJECT.circuit
    assert asking(SUBJECT) == "first.call"
    assert asking(SUBJECT, circuit.device("third")) == "third.call"
    assert asking(SUBJECT, circuit.device("second")) == ""
    assert asking(subject_of(HOUSE, house(devices={"pump": "pump"}))) == ""
