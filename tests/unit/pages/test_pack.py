"""The pack: every page of a property as a part of one, with its headings one level down."""

from datetime import date

import pytest
from markupsafe import Markup

from generator.pages.pack import pack_html
from generator.pages.pieces import Pieces, lowered
from generator.pages.tabs import PACK, PACKED, TABS
from generator.pipeline import examine, examine_text
from generator.rules.example_house import HOUSE
from generator.views.property import property_view
from tests.tools.paths import PROPERTIES


def test_every_page_is_a_part() -> None:
    assert [tab for tab, _, _ in PACKED] == [tab for tab in TABS if tab is not PACK]


def test_headings_go_one_level_down_and_text_stays() -> None:
    html = Markup("<h2>A &lt;h2&gt;</h2><h3 class='x'>B</h3><header>C</header>")
    assert lowered(html) == "<h3>A &lt;h2&gt;</h3><h4 class='x'>B</h4><header>C</header>"


def test_a_pack_that_stands_alone_links_nowhere() -> None:
    view = property_view(examine(PROPERTIES / "EB-0071.yaml", today=date(2026, 11, 25)), stem="EB-0071")
    pieces = Pieces(view, rules={}, photos=())
    assert 'href="../' in pack_html(pieces, root="../../../")
    assert 'href="../' not in pack_html(pieces, root=None)


def test_what_could_not_be_read_has_a_pack_that_says_so() -> None:
    view = property_view(examine_text("format: 1\n", today=date(2026, 11, 25)), stem="XX-1")
    html = pack_html(Pieces(view, rules={}, photos=()), root=None)
    assert "Not read" in html
    assert "part-wiring" not in html


def test_only_the_parts_have_headings_of_the_second_level() -> None:
    view = property_view(examine(PROPERTIES / "EB-0012.yaml", today=date(2026, 11, 25)), stem="EB-0012")
    html = pack_html(Pieces(view, rules={}, photos=()), root=None)
    assert html.count("<h2") == html.count('<h2 class="hb-part__title"')
    assert html.count("<h3") > 10


def test_the_latest_visit_comes_first_whatever_the_order_of_the_record() -> None:
    days = ("2020-06-01", "2026-03-14", "2012-04-18")
    visits = "".join(f"  - {{ on: {day}, by: electrician, found: Seen. }}\n" for day in days)
    view = property_view(examine_text(f"{HOUSE}visits:\n{visits}", today=date(2026, 11, 25)), stem="EX-0001")
    html = pack_html(Pieces(view, rules={}, photos=()), root=None)
    shown = [html.index(f">{day}, electrician<") for day in sorted(days, reverse=True)]
    assert shown == sorted(shown)


@pytest.mark.parametrize("reference", ["EB-0071", "EB-0149", "EB-0153", "EB-0167"])
def test_names_in_the_record_are_set_as_code_and_no_backtick_is_left(reference: str) -> None:
    examination = examine(PROPERTIES / f"{reference}.yaml", today=date(2026, 11, 25))
    html = pack_html(Pieces(property_view(examination, stem=reference), rules={}, photos=()), root=None)
    assert "`" not in html
