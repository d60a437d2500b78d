"""What is found does not hang on the order in which a record lists things: nothing that is in order hides what comes after it."""

from pathlib import Path
from typing import Any

import pytest

from generator.record.written_out import write_yaml
from generator.record.yaml12 import load
from generator.rules.rule import Rule
from generator.rules.rules import ALL
from tests.rules.examples import rules_of

CASES = sorted((Path(__file__).parent / "cases").glob("*.yaml"))
_LISTED = (
    ("devices",),
    ("cables",),
    ("zones",),
    ("water", "circuits"),
    ("wiring", "centres"),
    ("wiring", "direct"),
)
"""Where a record lists things one after the other, and their order means nothing."""


def turned_round(text: str) -> str:
    """The record with everything listed the other way round, the landings in each terminal too."""
    document, findings = load(text.encode(), "record.yaml")
    assert document is not None, findings
    data: dict[str, Any] = dict(document.data)
    for way in _LISTED:
        *before, last = way
        place = data
        for key in before:
            place[key] = dict(place.get(key, {}))
            place = place[key]
        if last in place:
            place[last] = _reversed(place[last])
    centres = data["wiring"].get("centres", {})
    for name, terminals in centres.items():
        centres[name] = {terminal: _reversed(landed) for terminal, landed in _reversed(terminals).items()}
    return write_yaml({key: value for key, value in data.items() if value != {}})


def _reversed(listed: Any) -> Any:
    if isinstance(listed, dict):
        return dict(reversed(listed.items()))
    return listed[::-1] if isinstance(listed, list) else listed


@pytest.mark.parametrize("rule", ALL, ids=lambda rule: rule.name)
def test_wrong_example_turned_round(rule: Rule, tmp_path: Path) -> None:
    assert rules_of(turned_round(rule.wrong), tmp_path) == rules_of(rule.wrong, tmp_path)


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_case_turned_round(case: Path, tmp_path: Path) -> None:
    text = case.read_text(encoding="utf-8")
    assert rules_of(turned_round(text), tmp_path) == rules_of(text, tmp_path)
