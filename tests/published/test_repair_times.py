"""By when a council has to mend lost heat or hot water.

Secure Tenants of Local Housing Authorities (Right to Repair) Regulations 1994, SI 1994/133, Schedule: total or partial loss of space
or water heating, one working day between 31 October and 1 May, three working days between 30 April and 1 November.
"""

from datetime import date, timedelta

import pytest

from generator.pages.tenant_pages import tenant_page_html
from generator.pipeline import examine_text, today
from generator.rules.example_house import HOUSE
from generator.views.tenant import tenant_page
from generator.views.tenant_model import Firm
from generator.views.tenant_wording import load_wordings
from tests.tools.plain_words import HARDEST_GRADE, grade, long_sentences, prose

WINTER = "From 1 November to 30 April: in one working day."
SUMMER = "From 1 May to 31 October: in three working days."


def page(nation: str, *, council: bool) -> str:
    text = HOUSE.replace("nation: england", f"nation: {nation}")
    firm = Firm(name="F", phone="01632 960123", right_to_repair=council)
    wording = load_wordings()[0]["en"]
    return tenant_page_html(
        tenant_page(examine_text(text, today=today()), None, wording=wording, firm=firm, revision="b7a1")
    )


def test_a_council_in_england_says_both_times_and_where_they_are_from() -> None:
    said = page("england", council=True)
    for words in (WINTER, SUMMER, "under £250", "SI 1994/133"):
        assert words in said
    read = prose(said)
    assert grade(read.sentences) <= HARDEST_GRADE
    assert long_sentences(read.sentences) == []


@pytest.mark.parametrize(
    ("nation", "council"),
    [
        ("england", False),
        ("wales", True),
        ("scotland", True),
        ("northern ireland", True),
    ],
)
def test_nobody_else_says_any(nation: str, council: bool) -> None:
    said = page(nation, council=council)
    assert "working day" not in said
    assert "1994" not in said


def test_a_record_that_cannot_be_read_says_none() -> None:
    firm = Firm(name="F", phone="", right_to_repair=True)
    made = tenant_page(
        examine_text("", today=today()), None, wording=load_wordings()[0]["en"], firm=firm, revision="b7a1"
    )
    assert made.repair == ()


def test_the_two_times_cover_every_day_once_with_the_ends_that_the_schedule_leaves_out() -> None:
    def days(day: date) -> int:
        """As the Schedule has it, the days named left out; the year is any."""
        after_october = (day.month, day.day) > (10, 31)
        before_may = (day.month, day.day) < (5, 1)
        return 1 if after_october or before_may else 3

    def said(day: date) -> int:
        """As the page says it."""
        return 1 if day.month in (11, 12, 1, 2, 3, 4) else 3

    year = [date(2027, 1, 1) + timedelta(days=n) for n in range(365)]
    assert [days(each) for each in year] == [said(each) for each in year]
    assert [days(date(2027, *each)) for each in ((10, 31), (11, 1), (4, 30), (5, 1))] == [3, 1, 1, 3]
