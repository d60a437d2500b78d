"""The labels of a wiring centre: each names one terminal."""

from typing import Any

import pytest
from pydantic import ValidationError

from generator.catalogue.supplies import WiringCentreSettings


@pytest.mark.parametrize(
    ("settings", "said"),
    [
        ({"terminals": ["A", "B", "A"]}, "two terminals of the box have the label `A`"),
        ({"terminals": ["case", "A"], "metal_box": True}, "`case` is the metal box itself"),
        ({}, "one of the two"),
        ({"terminals": ["A"], "count": 3}, "one of the two"),
    ],
)
def test_labels_that_name_no_terminal_for_sure(settings: dict[str, Any], said: str) -> None:
    with pytest.raises(ValidationError, match=said):
        WiringCentreSettings(**settings)


def test_labels_as_they_are_found() -> None:
    assert WiringCentreSettings(terminals=("010", "N", "L1", "case")).labels == ("010", "N", "L1", "case")
    assert WiringCentreSettings(count=3, metal_box=True).labels == ("1", "2", "3")
