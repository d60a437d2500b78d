"""What is still told of a record whose shape is wrong: names, and nothing that only seems wrong since a part is gone."""

from datetime import date

import pytest

from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE

DAY = date(2026, 3, 20)
BAD_NAME = ("to: water-valve.motor,", "to: water-valve.moter,")
"""A terminal that no valve has; every case below has it, and it is to be told in every one."""


def _rules(*changes: tuple[str, str]) -> list[str]:
    text = HOUSE
    for before, after in changes:
        assert before in text, before
        text = text.replace(before, after, 1)
    examination = examine_text(text, today=DAY)
    assert examination.record is None
    assert examination.circuit is None
    assert examination.solution is None
    return sorted(each.rule for each in examination.findings)


@pytest.mark.parametrize(
    ("change", "rules"),
    [
        (("  fuel: gas\n", "  fuel: gass\n"), ["not-allowed-value"]),
        (("  fuel: gas\n", ""), ["missing-key"]),
        (("sure: { how: tested, on: 2026-03-14, by: heating engineer }\n", ""), ["missing-key"]),
        (("floor_area_m2: 82", "floor_area_m2: large"), ["wrong-type"]),
        (("\nzones:", "\nnotice: 1\nzones:"), ["unknown-key"]),
        (("channel: programmer.1", "channel: programmer"), ["bad-end"]),
        (("size_mm2: 0.75", "size_mm2: 0.8"), ["wrong-value"]),
        # Two cores alike have numbers; both that repeat one are told.
        (("[BN, BU, GNYE, GY, OG]", "[BN, BN, bn, BU, GNYE, GY, OG]"), ["core-written-twice"] * 2),
        (("{ to: pump.L, core: BN }", "{ to: pump.L, core: BROWN }"), ["bad-core"]),
        (("{ to: pump.L, core: BN }", "{ to: pump.L, core: BN, wide: 1 }"), ["unknown-key"]),
        # Another cable was meant: BN of the boiler's is written already.
        (("{ to: pump.L, core: BN }", "{ to: boiler.call, core: BN, cabel: second }"), ["unknown-key"]),
        (("{ to: pump.L, core: BN }", "{ to: boiler.call, core: BN, cable: Second One }"), ["bad-name"]),
        (("  pump: { kind: pump }", "  pump: { knid: pump }"), ["unknown-key"]),
        (("  pump: { kind: pump }", "  pump: pump"), ["wrong-type"]),
        (("serves: hot water", "serves: water"), ["not-allowed-value"]),
    ],
)
def test_a_wrong_name_is_told_beside_a_wrong_shape(change: tuple[str, str], rules: list[str]) -> None:
    assert _rules(change, BAD_NAME) == sorted([*rules, "unknown-terminal"])


@pytest.mark.parametrize(
    ("change", "rules"),
    [
        (("\ndevices:", "\ndevcies:"), ["unknown-key"]),
        (("  pump: { kind: pump }", "  pump: { kind: [pump] }"), ["wrong-type"]),
    ],
)
def test_a_name_whose_device_could_not_be_read_is_not_called_unknown(
    change: tuple[str, str], rules: list[str]
) -> None:
    assert _rules(change) == rules


def test_names_keep_their_places() -> None:
    text = HOUSE.replace(
        "core: BK }\n        - { to: water-thermostat.common", "core: BLACK }\n        - { to: watr.x"
    )
    found = {each.rule: each.span for each in examine_text(text, today=DAY).findings}
    line = text[: text.index("watr.x")].count("\n") + 1
    assert found["bad-core"].line == line - 1
    assert (found["unknown-device"].line, found["unknown-device"].column) == (line, 17)
