"""What is proved of a house, and what is not once one thing is wrong in it."""

import pytest

from generator.pipeline import examine_text
from generator.rules.example_house import FROST, HOUSE, IMMERSION, OVERRUN, TODAY, change, moved
from generator.rules.example_three_port import MID_POSITION
from generator.rules.rules import rule_named
from generator.views.proofs import Proof, Proofs, proofs
from tests.tools.paths import PROPERTIES


def proved(text: str) -> Proofs:
    found = proofs(examine_text(text, today=TODAY))
    assert found is not None
    return found


def not_so(text: str) -> list[Proof]:
    return [claim for claim in proved(text).claims if not claim.proved]


@pytest.mark.parametrize("text", [HOUSE, OVERRUN, IMMERSION, FROST])
def test_a_sound_house(text: str) -> None:
    found = proved(text)
    assert [claim.claim for claim in found.claims if not claim.proved] == []
    assert all(claim.covered and not claim.counter for claim in found.claims)


def test_says_what_was_covered() -> None:
    found = proved(HOUSE)
    assert found.states == 16
    assert found.controls == (
        "channel 1 of the programmer",
        "channel 2 of the programmer",
        "the room thermostat",
        "the water thermostat",
    )
    by_claim = {claim.claim: claim.covered for claim in found.claims}
    assert by_claim["Whenever hot water calls, the water valve opens."] == "all 16 states"
    assert by_claim["With every isolator off, nothing is live."] == "all 16 states"


def test_exceptions_are_named() -> None:
    assert any("the pump's overrun" in claim.claim for claim in proved(OVERRUN).claims)
    assert any("calls of the frost thermostat" in claim.claim for claim in proved(FROST).claims)


def test_crossed_zones() -> None:
    rule = rule_named("crossed-zones")
    assert rule is not None
    claims = not_so(rule.wrong)
    assert [claim.claim for claim in claims] == [
        "Whenever hot water calls, the water valve opens.",
        "The water valve opens for no other call.",
        "Whenever heating calls, the heating valve opens.",
        "The heating valve opens for no other call.",
    ]
    counter = claims[1].counter
    assert counter.startswith(
        "With only channel 2 of the programmer on and the room thermostat calling for heat: "
    )
    assert "`spur.L` > `centre.H` > `programmer.L`" in counter
    assert counter.endswith("V from `water-valve.motor` to neutral")


def test_boiler_fed_for_ever() -> None:
    text = moved(HOUSE, "- { to: boiler.call, core: BK }", after="- { to: spur.L, core: BN }")
    (claim,) = (each for each in not_so(text) if "no boiler" in each.claim)
    assert claim.counter.startswith(
        "With every control off: line reaches it by `spur.L` > `centre.H` > `boiler.call`"
    )


def test_what_shows_at_no_terminal_names_its_state() -> None:
    """The motor of a mid-position valve is fed inside its head."""
    text = moved(
        MID_POSITION,
        "- { to: valve.water-off, core: GY }",
        after="- { to: valve.out, core: OG }",
    )
    counters = [claim.counter for claim in not_so(text) if "the valve opens" in claim.claim]
    assert counters
    assert all(counter.startswith("With ") for counter in counters)


def test_heat_drawn_from_a_store_calls_no_boiler() -> None:
    """A pump takes heat out of a thermal store, which has a thermostat of its own (common practice, no source)."""
    text = (PROPERTIES / "EB-0164.yaml").read_text(encoding="utf-8")
    found = proved(text)
    assert [claim.claim for claim in found.claims if not claim.proved] == []
    assert [claim.claim for claim in found.claims if "a boiler is called" in claim.claim] == [
        "Whenever Thermal store calls, a boiler is called."
    ]


def test_pump_with_no_way() -> None:
    rule = rule_named("pump-against-shut-valves")
    assert rule is not None
    assert "Water can move whenever a pump runs." in [claim.claim for claim in not_so(rule.wrong)]


def test_overrun_with_no_way() -> None:
    rule = rule_named("overrun-without-path")
    assert rule is not None
    assert [claim.claim for claim in not_so(rule.wrong)] == [
        "Water can move whenever a pump runs during overrun."
    ]


def test_second_supply() -> None:
    """A box that two spurs reach is dead once both are off; with one of them it is not."""
    rule = rule_named("live-with-isolator-open")
    assert rule is not None
    isolated = [claim for claim in proved(rule.wrong).claims if "every isolator" in claim.claim]
    assert [claim.proved for claim in isolated] == [True]


@pytest.mark.parametrize(
    ("rule", "words"),
    [
        ("line-joined-to-neutral", "Line is never joined to neutral by metal."),
        ("earth-joined-to-line", "No earth terminal is ever live."),
        ("earth-terminal-live", "No earth terminal is ever live."),
        ("zone-does-not-open-its-valve", "Whenever heating calls, the heating valve opens."),
        ("call-does-not-reach-boiler", "Whenever heating calls, a boiler is called."),
        ("pump-on-without-call", "With nothing calling, no pump runs."),
        ("hunting", "The controls always come to rest."),
    ],
)
def test_what_a_rule_finds_is_not_proved(rule: str, words: str) -> None:
    value = rule_named(rule)
    assert value is not None
    (claim,) = (each for each in not_so(value.wrong) if each.claim.startswith(words))
    assert claim.counter
    assert [each.claim for each in not_so(value.right)] == []


def test_states_without_a_fuse_are_left_out_and_told() -> None:
    rule = rule_named("line-joined-to-neutral")
    assert rule is not None
    covered = {claim.covered for claim in proved(rule.wrong).claims if claim.proved}
    assert "the 12 of 16 states that come to rest and blow no fuse" in covered


def test_nothing_of_a_record_that_cannot_be_solved() -> None:
    assert proofs(examine_text(change(HOUSE, ("to: pump.L", "to: nowhere.L")), today=TODAY)) is None
