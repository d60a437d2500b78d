"""Findings on a page: one change that puts several of them right is told with the first, and only referred to after it."""

from datetime import date

from generator.pages.pack import pack_html
from generator.pages.pieces import Pieces
from generator.pipeline import examine_text
from generator.rules.example_house import change
from generator.views.property import property_view
from tests.tools.paths import PROPERTIES


def test_a_change_is_told_once() -> None:
    text = change(
        (PROPERTIES / "EB-0149.yaml").read_text(encoding="utf-8"), ("        - {to: spur.L, core: BN}\n", "")
    )
    examination = examine_text(text, today=date(2026, 11, 25), folder=PROPERTIES)
    cured = [finding for finding in examination.findings if finding.cure]
    assert len(cured) > 2
    assert len({finding.cure for finding in cured}) == 1
    html = pack_html(Pieces(property_view(examination, stem="EB-0149"), rules={}, photos=()), root=None)
    first = max(cured, key=lambda finding: finding.severity.rank)
    assert html.count("One change puts it right, worked out from the record: land a core") == 1
    told = html.count(f"The change told with line {first.span.line} puts this right too.")
    assert told == len(cured) - 1
