"""Names that do not exist: what is said of them."""

from datetime import date

from generator.pipeline import examine_text
from generator.rules.example_house import HOUSE

DAY = date(2026, 3, 20)


def _messages(*changes: tuple[str, str]) -> list[str]:
    text = HOUSE
    for before, after in changes:
        assert before in text, before
        text = text.replace(before, after, 1)
    return [each.message for each in examine_text(text, today=DAY).findings]


def test_a_number_suggests_no_other_number() -> None:
    (message,) = _messages(("to: pump.L,", "to: pump.11,"))
    assert message == "`pump` (pump) has no terminal `11`"


def test_a_picture_of_no_device() -> None:
    photos = "\nphotos:\n  - { file: photos/EX-0001-centre.svg, caption: The box, shows: center }\n\nzones:"
    (message,) = _messages(("\nzones:", photos))
    assert message == "no device is called `center`; did you mean `centre`?"
