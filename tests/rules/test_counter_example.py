"""A counter-example tells one state, the path in it, and the reading that shows it."""

from pathlib import Path

import pytest

from generator.rules.example_house import HOUSE, added, without
from generator.rules.rule import Rule
from generator.rules.rules import ALL, rule_named
from tests.rules.examples import examined


def example(name: str, folder: Path) -> str:
    rule = rule_named(name)
    assert rule is not None
    return next(each.example for each in examined(rule.wrong, folder).findings if each.rule == name)


def test_a_valve_that_opens_for_another_call(tmp_path: Path) -> None:
    told = example("valve-opens-without-its-call", tmp_path)
    assert told.replace("229 V", "230 V") == (
        "with only channel 1 of the programmer on: line reaches it by `spur.L` > `centre.H` > `programmer.L` > "
        "`programmer.on-1` > `centre.A` > `water-valve.motor`; a meter shows 230 V from `water-valve.motor` to neutral"
    )


def test_a_call_that_does_not_arrive(tmp_path: Path) -> None:
    assert example("call-does-not-reach-boiler", tmp_path) == (
        "with only channel 2 of the programmer on and the room thermostat calling for heat: nothing joins "
        "`boiler.call` to line; a meter shows 0 V from `boiler.call` to neutral"
    )


def test_a_lost_neutral_reads_near_the_supply(tmp_path: Path) -> None:
    text = added(
        without(HOUSE, "- { to: pump.N, core: BU }"),
        "- { to: pump.N, core: BU }",
        after="- { to: pump.L, core: BN }",
    )
    text = without(text, "- { to: pump.L, core: BN }")
    assert any("pump.N" in each.example for each in examined(text, tmp_path).findings)


def test_overrun_is_told(tmp_path: Path) -> None:
    assert example("overrun-without-path", tmp_path).startswith("during overrun, with every control off: ")


def test_what_blows_the_fuse_is_followed_dead(tmp_path: Path) -> None:
    told = example("line-joined-to-neutral", tmp_path)
    assert told.startswith(
        "with only channel 1 of the programmer on and the water thermostat calling for heat: `spur.L` > "
    )
    assert "with the supply off and proved dead" in told
    assert "a meter shows" not in told


_OF_STATES = [rule for rule in ALL if rule.family.value in ("calls for heat", "neutral and earth")]
_NONE = {
    "control-changes-nothing": "it is that nothing differs between states",
    "hunting": "it never rests, so nothing can be read",
    "demand-bridged": "its path is in the message, and it is so in every state",
}


@pytest.mark.parametrize("rule", _OF_STATES, ids=lambda rule: rule.name)
def test_every_rule_on_states_gives_one(rule: Rule, tmp_path: Path) -> None:
    found = [
        each for each in examined(rule.wrong, tmp_path).findings if each.rule == rule.name and each.holds
    ]
    if rule.name not in _NONE:
        assert all(each.example for each in found)
