"""Where two boilers heat parts without valves, the record does not say which zone is whose: no step may rest on it."""

from datetime import date
from pathlib import Path

from generator.faults.every_fault import every_fault
from generator.overrides.model import Move, Sign
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pipeline import examine
from tests.odd_heat_houses import TWO_BOILERS, written
from tests.rules.examples import examined
from tests.short_houses import hall_and_beds

SECOND_BOILER = """\
  spur: {place: kitchen, reach: tenant}
  boiler-2: {kind: boiler, place: loft, settings: {overrun: true, pump_output: true}}
  pump-2: {kind: pump, place: loft}
wiring:
  centres:
    centre:
      G: [{to: boiler-2.call, core: BK}]
      J: [{to: boiler-2.E, core: GNYE}, {to: pump-2.E, core: GNYE}]
      K: [{to: boiler-2.N, core: BU}, {to: pump-2.N, core: BU}]
      L: [{to: boiler-2.L, core: BN}]
  direct:
    - {ends: [boiler-2.pump, pump-2.L], core: BN, cable: pump-2}
"""


def test_the_thermostat_of_one_boiler_brings_back_nothing_of_the_other(tmp_path: Path) -> None:
    text = TWO_BOILERS.replace("EX-0003", "HN-01").replace("place: hall", "place: hall, reach: tenant")
    text = text.replace("place: annexe }", "place: annexe, reach: tenant }")
    seen = examine(written(text, tmp_path), today=date(2026, 11, 25))
    assert seen.findings == ()
    found = overrides(seen.solution, seen.findings, Policy())
    assert {name for each in found.instructions for one in each.attempts for name in one.wanted} <= {"taps"}
    assert not {"house", "annexe"} & {service.name for service in found.services}


def test_one_empty_meter_stops_both_and_is_the_first_thing_to_look_at(tmp_path: Path) -> None:
    seen = examined(hall_and_beds(SECOND_BOILER), tmp_path)
    assert seen.solution is not None
    found = overrides(seen.solution, (), Policy())
    fuel = [fault for fault in every_fault(seen.solution) if fault.credit]
    assert [(fault.words.partition(":")[0], len(fault.changes)) for fault in fuel] == [
        ("Boiler and Boiler 2", 2)
    ]
    nothing = next(each for each in found.instructions if each.symptom.sign is Sign.NOTHING_WARM)
    assert nothing.attempts[0].steps[0].move is Move.CHECK_CREDIT
    assert nothing.attempts[0].helps == (fuel[0].name,)
