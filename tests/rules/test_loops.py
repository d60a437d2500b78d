"""What no zone names: further loops of a zone's floor, and the pump of its blending set."""

from pathlib import Path

import pytest

from generator.findings.finding import Finding, Severity
from generator.rules.calls_loops import FLOOR
from generator.rules.example_house import change
from tests.rules.examples import examined
from tests.short_houses import ZONE_PUMPS

LOOP, PUMP = "loop-unlike-its-zone", "blending-pump-unlike-the-floor"


def found(text: str, rule: str, folder: Path) -> list[Finding]:
    return [finding for finding in examined(text, folder).findings if finding.rule == rule]


@pytest.mark.parametrize(
    ("outlet", "holds"),
    [("live-1", "while nothing calls"), ("call-1", None), ("boiler", None), ("pump", None)],
)
def test_second_loop(outlet: str, holds: str | None, tmp_path: Path) -> None:
    """The thermostat's call, the boiler's and the pump's output come and go with the zone too."""
    text = FLOOR + f"  direct:\n    - {{ ends: [kitchen-actuator-2.L, controller.{outlet}], core: BN }}\n"
    assert [finding.holds for finding in found(text, LOOP, tmp_path)] == ([holds] if holds else [])


def test_second_loop_that_never_opens(tmp_path: Path) -> None:
    text = change(
        FLOOR,
        (
            "      D: # controller",
            "      F: # earths\n        - { to: kitchen-actuator-2.L, core: BN }\n      D: # controller",
        ),
    )
    (finding,) = found(text, LOOP, tmp_path)
    assert finding.message == "the kitchen actuator 2 never opens, unlike any zone's valve"
    assert finding.holds == "in every state"


def test_second_loop_of_another_zone_is_told_where_the_place_is_recorded(tmp_path: Path) -> None:
    moved = FLOOR + "  direct:\n    - { ends: [kitchen-actuator-2.L, upstairs-valve.motor], core: BN }\n"
    assert found(moved, LOOP, tmp_path) == []
    placed = f"""{moved}
water:
  circuits:
    kitchen: {{ where: kitchen }}
    second: {{ valve: kitchen-actuator-2, feeds: underfloor, where: kitchen, blending: true }}
"""
    (finding,) = found(placed, LOOP, tmp_path)
    assert finding.message.endswith("unlike the valve of kitchen, whose part of the house it feeds")
    assert finding.subject == "kitchen-actuator-2"


def test_the_pump_of_the_floor_stands_still(tmp_path: Path) -> None:
    text = change(FLOOR, ("      D: # controller's pump output\n", "      C: # upstairs calls\n"))
    (finding,) = found(text, PUMP, tmp_path)
    assert finding.severity is Severity.ERROR
    assert finding.holds == "whenever kitchen calls and upstairs does not call"


def test_the_pump_of_the_floor_runs_in_vain(tmp_path: Path) -> None:
    text = change(FLOOR, ("      D: # controller's pump output\n", "      E: # boiler called\n"))
    (finding,) = found(text, PUMP, tmp_path)
    assert finding.severity is Severity.WARNING
    assert finding.holds == "whenever kitchen does not call and upstairs calls"
    assert "`upstairs-valve.switch-b` > `centre.E` > `blending-set.L`" in finding.message


def test_boilers_own_pump_on_a_header(tmp_path: Path) -> None:
    """The zone's pump runs, and moves nothing through the boiler."""
    assert examined(ZONE_PUMPS, tmp_path).findings == ()
    text = ZONE_PUMPS + "wiring:\n  direct:\n    - { ends: [pump.L, up-pump.L], core: BN }\n"
    (finding,) = found(text, "boiler-on-without-pump", tmp_path)
    assert finding.subject == "pump"
    assert finding.holds == "whenever down calls and up does not call"


def test_zone_pump_that_runs_for_another_and_heats_nothing(tmp_path: Path) -> None:
    """It runs though the boiler has lost its call: still a pump that nobody asked for."""
    text = ZONE_PUMPS + (
        "wiring:\n  removed:\n    - { cable: boiler, core: BK }\n  direct:\n    - { ends: [down-pump.L, up-pump.L], core: BN }\n"
    )
    (finding,) = found(text, "valve-opens-without-its-call", tmp_path)
    assert finding.subject == "down-pump"


def test_a_call_lost_for_one_zone_does_not_hide_that_of_the_next(tmp_path: Path) -> None:
    """The first zone reaches the boiler by its end switch; the second does not."""
    text = change(
        FLOOR,
        ("wiring:\n", "wiring:\n  removed:\n    - { cable: upstairs-valve, core: OG }\n"),
    )
    (finding,) = found(text, "call-does-not-reach-boiler", tmp_path)
    assert finding.subject == "upstairs"
