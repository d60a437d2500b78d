"""The first page of a property: nothing is told twice, and what is put right alike is told together."""

from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from generator.findings.finding import Finding, Severity, Span
from generator.pipeline import examine
from generator.views.glance import alike
from generator.views.property import property_view
from generator.views.shown_states import StateGroup, grouped, shown_states
from tests.circuits import house
from tests.tools.paths import PROPERTIES

RECORDS = [
    file
    for file in sorted(PROPERTIES.glob("*.yaml"))
    if file.stem in ("EB-0012", "EB-0033", "EB-0052", "EB-0071", "EB-0108")
]


@pytest.mark.parametrize("file", RECORDS, ids=[file.stem for file in RECORDS])
def test_what_is_unusual_is_told_once(file: Path) -> None:
    view = property_view(examine(file, today=date(2026, 11, 25)), stem=file.stem)
    assert view.glance is not None
    told = Counter(one.key for one in view.glance.unusual or () if one.key not in ("special", "relay"))
    assert [key for key, count in told.items() if count > 1] == []
    sentences = [one.words for one in view.glance.unusual or ()]
    assert len(sentences) == len(set(sentences))


def test_blue_cores_that_are_lives_stand_in_one_sentence() -> None:
    view = property_view(examine(PROPERTIES / "EB-0033.yaml", today=date(2026, 11, 25)), stem="EB-0033")
    assert view.glance is not None
    assert view.glance.unusual is not None
    assert view.glance.unusual[0].words == (
        "Three BU cores are switched lives, sleeved BN: from west thermostat call to terminal 2, from east thermostat call "
        "to terminal 4 and from first thermostat call to terminal 6."
    )


def test_a_special_relay_is_told_once() -> None:
    view = property_view(examine(PROPERTIES / "EB-0033.yaml", today=date(2026, 11, 25)), stem="EB-0033")
    assert view.glance is not None
    relays = [one.words for one in view.glance.unusual or () if one.words.startswith("Relay")]
    assert len(relays) == 1
    assert relays[0].startswith("Relay, a relay in the call: ")


def _finding(rule: str, fix: str, line: int, severity: Severity = Severity.ERROR) -> Finding:
    return Finding(
        rule=rule, severity=severity, message="m", fix=fix, span=Span(file="a.yaml", line=line, column=1)
    )


def test_findings_put_right_alike_are_told_together() -> None:
    one, two, other = _finding("a", "x", 1), _finding("b", "x", 2), _finding("a", "x", 3)
    apart, worse = _finding("a", "y", 4), _finding("a", "x", 5, Severity.DANGER)
    assert alike([one, two, other, apart, worse]) == ((one, other), (two,), (apart,), (worse,))


def test_states_are_chosen_by_what_is_calling() -> None:
    circuit = house(
        devices={
            "programmer": ("programmer", {"channels": 2}),
            "hall-thermostat": "room-thermostat",
            "loft": "frost-thermostat",
        },
        zones={
            "hot-water": {"serves": "hot water", "channel": "programmer.1"},
            "hall": {"serves": "heating", "channel": "programmer.2", "thermostat": "hall-thermostat"},
        },
    )
    assert [(group, [state.id for state in states]) for group, states in grouped(shown_states(circuit))] == [
        (StateGroup.HOUSE, ["rest", "timers", "all"]),
        (StateGroup.ZONE, ["zone-1", "zone-2"]),
        (StateGroup.BY_ITSELF, ["design-1"]),
    ]
