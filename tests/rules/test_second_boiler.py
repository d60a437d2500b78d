"""Two boilers in one property, each with a loop, a supply and a pump of its own. Common practice, no source."""

from pathlib import Path

from generator.rules.example_house import change
from tests.rules.examples import rules_of

TWO = """\
format: 1
property:
  reference: EX-0003
  address: { lines: [3 Example Row], town: Exampleton }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 140 }
sure: { how: tested, on: 2026-03-14, by: heating engineer }
devices:
  spur: { kind: fused-spur }
  annexe-spur: { kind: fused-spur }
  centre: { kind: wiring-centre, settings: { count: 4 } }
  annexe-centre: { kind: wiring-centre, settings: { count: 4 } }
  boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }
  annexe-boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }
  thermostat: { kind: programmable-room-thermostat, place: hall }
  annexe-thermostat: { kind: programmable-room-thermostat, place: annexe }
wiring:
  centres:
    centre:
      1: [{ to: spur.L, core: BN }, { to: boiler.L, core: BN }, { to: thermostat.common, core: BN }]
      2: [{ to: spur.N, core: BU }, { to: boiler.N, core: BU }]
      3: [{ to: spur.E, core: GNYE }, { to: boiler.E, core: GNYE }]
      4: [{ to: thermostat.call, core: BK }, { to: boiler.call, core: BK }]
    annexe-centre:
      1: [{ to: annexe-spur.L, core: BN }, { to: annexe-boiler.L, core: BN }, { to: annexe-thermostat.common, core: BN }]
      2: [{ to: annexe-spur.N, core: BU }, { to: annexe-boiler.N, core: BU }]
      3: [{ to: annexe-spur.E, core: GNYE }, { to: annexe-boiler.E, core: GNYE }]
      4: [{ to: annexe-thermostat.call, core: BK }, { to: annexe-boiler.call, core: BK }]
zones:
  house: { serves: heating, thermostat: thermostat }
  annexe: { serves: heating, thermostat: annexe-thermostat }
water:
  circuits:
    house: { feeds: radiators }
    annexe: { feeds: radiators, source: annexe }
  pump: in the boiler
  bypass: in the boiler
  sources: { annexe: { of: boiler, device: annexe-boiler } }
"""


def test_the_pump_of_one_boiler_need_not_run_for_the_other(tmp_path: Path) -> None:
    assert rules_of(TWO, tmp_path) == set()


def test_a_boiler_whose_own_pump_does_not_run(tmp_path: Path) -> None:
    """The pump outside the first boiler has no line."""
    text = change(
        TWO,
        (
            "  boiler: { kind: boiler, settings: { combination: true, pump_inside: true } }",
            "  boiler: { kind: boiler }\n  pump: { kind: pump }",
        ),
        (
            "{ to: boiler.N, core: BU }]\n      3: [{ to: spur.E, core: GNYE }, { to: boiler.E",
            "{ to: boiler.N, core: BU }, { to: pump.N, core: BU }]\n      3: [{ to: spur.E, core: GNYE }, { to: pump.E, core: GNYE }, { to: boiler.E",
        ),
        ("  pump: in the boiler", "  pump: on the flow"),
    )
    assert "boiler-on-without-pump" in rules_of(text, tmp_path)
