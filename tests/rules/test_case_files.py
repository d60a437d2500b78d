"""Case files: records that say at each line, in a comment, what must be found there; and each rule is triggered by one.

A case is a file `cases/NAME.yaml`. A line at which something must be found ends in `# finds: RULE, RULE`, and at no other
line is anything found.
"""

import re
from datetime import date
from pathlib import Path

import pytest

from generator.pipeline import examine
from generator.rules.example_house import TODAY
from generator.rules.rules import ALL
from tests.tools.paths import PROPERTIES

STOCK_DAY = date(2026, 11, 25)
CASES = sorted((Path(__file__).parent / "cases").glob("*.yaml"))


def expected(case: Path) -> set[tuple[int, str]]:
    """What the comments of a case say: line and rule."""
    found = set()
    for number, line in enumerate(case.read_text(encoding="utf-8").splitlines(), start=1):
        told = re.search(r"# finds: (.+)$", line)
        found |= {(number, name) for name in told.group(1).split(", ")} if told else set()
    return found


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_found_at_the_very_lines(case: Path) -> None:
    found = {(finding.span.line, finding.rule) for finding in examine(case, today=TODAY).findings}
    assert found == expected(case)
    assert found


def test_each_rule_is_triggered_by_a_demo_property_or_a_case() -> None:
    """Its own example aside."""
    triggered = {name for case in CASES for _, name in expected(case)}
    left = {rule.name for rule in ALL} - triggered
    for record in sorted(PROPERTIES.glob("*.yaml")) if left else ():
        left -= {finding.rule for finding in examine(record, today=STOCK_DAY).findings}
    assert left == set()
