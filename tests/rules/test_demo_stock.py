"""What the rules find in the demo stock is what was put there on purpose, and nothing else."""

from datetime import date

import pytest

from generator.findings.finding import Severity
from generator.pipeline import examine
from tests.stock_expectations import BOILER_CALLED, FAULTY, UNUSUAL
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize("reference", sorted(BOILER_CALLED))
def test_only_what_is_wrong_on_purpose_is_found(reference: str) -> None:
    examination = examine(PROPERTIES / f"{reference}.yaml", today=TODAY)
    assert examination.solution is not None
    found = {item.rule: item for item in examination.findings if item.severity >= Severity.WARNING}
    expected = {*FAULTY.get(reference, ()), *UNUSUAL.get(reference, ())}
    assert set(found) == expected, "\n".join(item.message for item in found.values())


@pytest.mark.parametrize("reference", sorted(set(BOILER_CALLED) - set(FAULTY)))
def test_a_house_that_works_has_no_error(reference: str) -> None:
    examination = examine(PROPERTIES / f"{reference}.yaml", today=TODAY)
    assert [item for item in examination.findings if item.severity >= Severity.ERROR] == []


def test_only_one_house_is_in_danger() -> None:
    dangerous = [
        reference
        for reference in BOILER_CALLED
        if examine(PROPERTIES / f"{reference}.yaml", today=TODAY).in_danger
    ]
    assert dangerous == ["EB-0071"]
