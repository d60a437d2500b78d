"""What the pipeline makes of a house with more states than can be solved: a finding, and a page all the same."""

from datetime import date

from generator.findings.finding import Severity
from generator.pipeline import examine_text
from generator.states.solve import MOST_INPUTS
from generator.views.property import property_view

TODAY = date(2026, 3, 20)


def rooms(count: int) -> str:
    """A record with a timer channel and a thermostat for each of so many rooms, and a fault that no state shows."""
    head = """\
format: 1
property:
  reference: TM-0001
  address: { lines: [1 Long Row], town: Testham }
  nation: england
  fuel: gas
  dwelling: { storeys: 2, floor_area_m2: 182 }
sure: { how: assumed, on: 2026-03-14, by: heating engineer }
arrangement:
  name: two-port
  zones:
"""
    return head + "".join(f"    room-{number}: {{ serves: heating }}\n" for number in range(1, count + 1))


def test_one_zone_more_than_can_be_solved() -> None:
    examination = examine_text(rooms(MOST_INPUTS // 2 + 1), today=TODAY)
    assert examination.solution is None
    assert examination.circuit is not None
    (finding,) = [each for each in examination.findings if each.severity >= Severity.ERROR]
    assert finding.rule == "too-many-states"
    assert (finding.span.line, finding.span.column) == (1, 1)
    assert "26 independent controls" in finding.message
    assert "nothing was solved" in finding.message
    view = property_view(examination, stem="TM-0001")
    assert view.glance is not None
    assert view.solved is None


def test_fewer_are_solved() -> None:
    examination = examine_text(rooms(3), today=TODAY)
    assert examination.solution is not None
    assert "too-many-states" not in {each.rule for each in examination.findings}
