"""Links join terminals of one box or one device; anything longer is a conductor."""

import pytest

from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE, TODAY, change


@pytest.mark.parametrize(
    ("ends", "told"),
    [
        ("centre.A, centre.B, boiler.L", ["link-between-devices"]),
        ("heating-valve.motor, water-valve.motor", ["link-between-devices"]),
        ("heating-valve.motor, nowhere.A", ["unknown-device"]),
    ],
)
def test_a_link_from_one_device_to_another(ends: str, told: list[str]) -> None:
    text = change(HOUSE, ("\nzones:\n", f"  links:\n    - {{ ends: [{ends}] }}\n\nzones:\n"))
    found = examine_text(text, today=TODAY).findings
    assert [each.rule for each in found] == told
    assert found[0].span.line == text[: text.index("{ ends:")].count("\n") + 1


def test_a_link_in_one_box_may_join_many() -> None:
    text = change(
        HOUSE,
        ("terminals: [A, B, C, D, E, F, G, H]", "terminals: [A, B, C, D, E, F, G, H, I, J]"),
        ("\nzones:\n", "  links:\n    - { ends: [centre.H, centre.I, centre.J] }\n\nzones:\n"),
    )
    assert examine_text(text, today=TODAY).findings == ()
