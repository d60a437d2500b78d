"""A second thermostat in the line of a zone, which no zone names: what needs its call is said to need it."""

from pathlib import Path

from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from tests.rules.examples import examined
from tests.short_houses import hall_and_beds

IN_SERIES = """\
  spur: {place: kitchen, reach: tenant}
  hall-2: {kind: room-thermostat, place: lounge, reach: tenant}
wiring:
  centres:
    centre:
      M: [{to: hall-thermostat.call, core: BK}, {to: hall-2.common, core: BN}]
      B: [{to: hall-2.call, core: BK}]
"""


def test_what_a_step_needs_besides_is_told_with_it(tmp_path: Path) -> None:
    seen = examined(hall_and_beds(IN_SERIES, room=True), tmp_path)
    found = overrides(seen.solution, (), Policy())
    attempts = [
        one for each in found.instructions for one in each.attempts if one.wanted == ("hall",) and one.wait_s
    ]
    assert attempts
    assert all("hall-2.calling" in one.only_while for one in attempts)
    others = [one for each in found.instructions for one in each.attempts if "hall" not in one.wanted]
    assert all("hall-2.calling" not in one.only_while for one in others)
