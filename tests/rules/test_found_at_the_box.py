"""Mistakes met at the box that the rules once told wrongly or not at all. Common practice, no source."""

from pathlib import Path

import pytest

from generator.findings.finding import Finding
from tests.rules.examples import examined
from tests.short_houses import hall_and_beds

SECOND_SPUR = """\
  spur-2: {kind: fused-spur, place: by the boiler}
wiring:
  removed:
    - {cable: boiler, core: BN}
    - {cable: boiler, core: BU}
  direct:
    - {ends: [boiler.L, spur-2.L], core: BN, cable: bs}
    - {ends: [boiler.N, spur-2.N], core: BU, cable: bs}
"""
EACH_BY_THE_OTHER = """\
  spur-2: {kind: fused-spur, place: by the boiler}
  by-1: {kind: relay}
  by-2: {kind: relay}
  box: {kind: wiring-centre, settings: {terminals: [P, Q]}}
wiring:
  direct:
    - {ends: [by-1.A1, spur.L], core: BN, cable: a}
    - {ends: [by-1.A2, spur.N], core: BU, cable: a}
    - {ends: [by-1.11, spur-2.L], core: BN, cable: b}
    - {ends: [by-2.A1, spur-2.L], core: BN, cable: c}
    - {ends: [by-2.A2, spur-2.N], core: BU, cable: c}
    - {ends: [by-2.11, spur.L], core: BN, cable: d}
  centres:
    box:
      P: [{to: by-1.14, core: BK, cable: e}]
      Q: [{to: by-2.14, core: BK, cable: f}]
"""
NEUTRAL_THROUGH_SWITCH = """\
  low: {kind: pressure-switch}
wiring:
  centres:
    centre:
      K: [{to: low.in, core: BU}]
      M: [{to: low.out, core: BK, sleeve: BU}, {to: boiler.N, core: BU}]
"""
BRIDGED_SWITCH = """\
  low: {kind: pressure-switch}
wiring:
  centres:
    centre:
      G: [{to: low.in, core: BN}]
      M: [{to: low.out, core: BK}, {to: boiler.call, core: BK}]
  links: [{ends: [centre.G, centre.M]}]
"""


def found(more: str, folder: Path, rule: str, *, room: bool = False) -> list[Finding]:
    examination = examined(hall_and_beds(more, room=room), folder)
    assert examination.solution is not None, examination.findings
    return [each for each in examination.findings if each.rule == rule]


@pytest.mark.parametrize("terminal", ["A", "B"])
def test_of_an_end_switch_in_a_switched_line_the_side_that_is_fed_is_told(
    terminal: str, tmp_path: Path
) -> None:
    """Whoever fed the other side from the permanent live would fire the boiler for good."""
    grey = f"wiring: {{centres: {{centre: {{{terminal}: [{{to: hall-valve.switch-a, core: GY}}]}}}}}}\n"
    (finding,) = found(grey, tmp_path, "end-switch-fed-by-switched-line")
    assert "the grey core (GY) of cable `hall-valve`, by which it is fed, is switched" in finding.message


def test_two_supplies_are_told_by_the_isolator_that_leaves_something_live(tmp_path: Path) -> None:
    (finding,) = found(SECOND_SPUR, tmp_path, "live-with-isolator-open")
    assert "with the spur 2 off, `centre.A`," in finding.message
    assert "can still be live, by `spur.L` > `centre.L`" in finding.message
    assert finding.holds == "whenever channel 1 of the programmer is on"


def test_of_two_supplies_that_reach_a_box_only_together_no_more_is_told_than_was_found(
    tmp_path: Path,
) -> None:
    (finding,) = found(EACH_BY_THE_OTHER, tmp_path, "live-with-isolator-open")
    assert finding.subject == "box"
    assert "with either off nothing there is live once all has settled" in finding.message
    assert finding.holds == finding.example == ""


def test_a_neutral_through_a_safety_switch_is_switched(tmp_path: Path) -> None:
    (finding,) = found(NEUTRAL_THROUGH_SWITCH, tmp_path, "neutral-switched", room=True)
    assert finding.message.endswith("lose their neutral while the water pressure of the low is too low")
    beside = NEUTRAL_THROUGH_SWITCH.replace(", {to: boiler.N, core: BU}]", "]")
    assert found(beside, tmp_path, "neutral-switched", room=True) == []


def test_a_safety_switch_that_is_bridged_stops_nothing(tmp_path: Path) -> None:
    (finding,) = found(BRIDGED_SWITCH, tmp_path, "control-changes-nothing", room=True)
    assert finding.message.startswith(
        "the low stops nothing in any state: while the water pressure is too low"
    )
    whole = BRIDGED_SWITCH.replace("  links: [{ends: [centre.G, centre.M]}]\n", "")
    assert found(whole, tmp_path, "control-changes-nothing", room=True) == []
