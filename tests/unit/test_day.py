"""The day that date rules go by, where the environment states one."""

from datetime import date

import pytest

from generator.findings.errors import HearthbookError
from generator.pipeline import today


def test_a_build_that_is_to_be_repeated_has_its_own_day(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1773446400")
    assert today() == date(2026, 3, 14)


@pytest.mark.parametrize("beyond", ["99999999999999", "9" * 400])
def test_a_day_beyond_the_calendar_is_told_as_the_users_mistake(
    beyond: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", beyond)
    with pytest.raises(HearthbookError, match="SOURCE_DATE_EPOCH"):
        today()
