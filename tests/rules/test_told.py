"""What the rules tell of their own examples and of the case files has not changed unseen: every word, place and state."""

from pathlib import Path

import pytest

from generator.pipeline import examine
from generator.rules.example_house import TODAY
from generator.rules.rule import Rule
from generator.rules.rules import ALL
from tests.rules.examples import examined
from tests.rules.told import CASES, stored, text_of

STORED = stored()


@pytest.mark.parametrize("rule", ALL, ids=lambda rule: rule.name)
def test_example(rule: Rule, tmp_path: Path) -> None:
    assert text_of(examined(rule.wrong, tmp_path).findings) == STORED[rule.name]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.stem)
def test_case(case: Path) -> None:
    assert text_of(examine(case, today=TODAY).findings) == STORED[case.name]


def test_nothing_else_is_stored() -> None:
    assert list(STORED) == [*(rule.name for rule in ALL), *(case.name for case in CASES)]
