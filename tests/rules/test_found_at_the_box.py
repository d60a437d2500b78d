"""Mistakes met at the box that the rules once told wrongly or not at all. Common practice, no source."""

from pathlib import Path

import pytest

from generator.findings.finding import Finding
from tests.rules.examples import examined

HOUSE = """\
format: 1
property:
  reference: EX-0001
  address: {lines: [1 Sorrel Lane], town: Kelderby}
  nation: england
  fuel: gas
  dwelling: {storeys: 2, floor_area_m2: 84}
sure: {how: tested, on: 2026-03-14, by: heating engineer}
arrangement:
  name: two-port
  boiler: overrun
  cylinder: vented
  zones:
    hall: {serves: heating}
    beds: {serves: heating}
    hot-water: {serves: hot water}
devices:
  hot-water-thermostat: {settings: {set_c: 60}}
"""
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
NEUTRAL_THROUGH_SWITCH = """\
  low: {kind: pressure-switch}
  centre: {settings: {terminals: [A, B, C, D, E, F, G, H, J, K, L, M]}}
wiring:
  centres:
    centre:
      K: [{to: low.in, core: BU}]
      M: [{to: low.out, core: BK, sleeve: BU}, {to: boiler.N, core: BU}]
"""
BRIDGED_SWITCH = """\
  low: {kind: pressure-switch}
  centre: {settings: {terminals: [A, B, C, D, E, F, G, H, J, K, L, M]}}
wiring:
  centres:
    centre:
      G: [{to: low.in, core: BN}]
      M: [{to: low.out, core: BK}, {to: boiler.call, core: BK}]
  links: [{ends: [centre.G, centre.M]}]
"""


def found(text: str, folder: Path, rule: str) -> list[Finding]:
    return [each for each in examined(HOUSE + text, folder).findings if each.rule == rule]


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


def test_a_neutral_through_a_safety_switch_is_switched(tmp_path: Path) -> None:
    (finding,) = found(NEUTRAL_THROUGH_SWITCH, tmp_path, "neutral-switched")
    assert finding.message.endswith("lose their neutral while the water pressure of the low is too low")
    beside = NEUTRAL_THROUGH_SWITCH.replace(", {to: boiler.N, core: BU}]", "]")
    assert found(beside, tmp_path, "neutral-switched") == []


def test_a_safety_switch_that_is_bridged_stops_nothing(tmp_path: Path) -> None:
    (finding,) = found(BRIDGED_SWITCH, tmp_path, "control-changes-nothing")
    assert finding.message.startswith(
        "the low stops nothing in any state: while the water pressure is too low"
    )
    assert (
        found(
            BRIDGED_SWITCH.replace("  links: [{ends: [centre.G, centre.M]}]\n", ""),
            tmp_path,
            "control-changes-nothing",
        )
        == []
    )
