"""Pages are valid HTML by the checker of the standard's community: the engineers' site, the pack by itself, tenants' pages."""

from datetime import date
from pathlib import Path

import pytest

from generator.pages.alone import pack_alone
from generator.pipeline import examine
from generator.rules.rules import ALL
from generator.views.property import property_view
from tests.tenant_pages import page_with_every_step, page_without_steps
from tests.tools.html_validator import html_errors
from tests.tools.paths import PROPERTIES

pytestmark = pytest.mark.validator

_OF_THE_FRAME = (
    # The theme writes these; they do no harm, and are the same on every page.
    ("Attribute “autocomplete” is only allowed when the input type", "__drawer"),
    ("Attribute “autocomplete” is only allowed when the input type", "__search"),
    ("Attribute “autocorrect” not allowed on element “input”", "md-search__input"),
    # A property of SVG 2 that the checker's list of CSS does not have yet.
    ("CSS: “paint-order”: Property “paint-order” doesn't exist.", ""),
)
_SAMPLE_EVERY = 4
"""Rule and kind pages are made by one template each: every fourth is enough."""


def _errors(pages: list[Path]) -> list[str]:
    return [
        f"{page}: {what} {around}"
        for page, what, around in html_errors(pages)
        if not any(what.startswith(known) and mark in around for known, mark in _OF_THE_FRAME)
    ]


def test_every_sort_of_page(demo_site: Path) -> None:
    everything = sorted(demo_site.rglob("*.html"))
    alike = [page for page in everything if page.relative_to(demo_site).parts[0] in ("rules", "kinds", "p")]
    pages = [page for page in everything if page not in alike] + alike[::_SAMPLE_EVERY]
    assert len(pages) > 60
    assert _errors(pages) == []


@pytest.mark.parametrize("reference", ["EB-0012", "EB-0033", "EB-0071", "EB-0130"])
def test_the_pack_alone(tmp_path: Path, reference: str) -> None:
    view = property_view(examine(PROPERTIES / f"{reference}.yaml", today=date(2026, 11, 25)), stem=reference)
    page = tmp_path / f"{reference}.html"
    page.write_text(pack_alone(view, rules={rule.name: rule for rule in ALL}, photos=()), encoding="utf-8")
    assert _errors([page]) == []


def test_tenants_pages(tmp_path: Path) -> None:
    pages = []
    for make in (page_without_steps, page_with_every_step):
        for reference in ("EB-0012", "EB-0033", "EB-0130"):
            page = tmp_path / f"{make.__name__}-{reference}.html"
            page.write_text(make(reference), encoding="utf-8")
            pages.append(page)
    assert _errors(pages) == []


def test_the_checker_finds_what_is_wrong(tmp_path: Path) -> None:
    page = tmp_path / "wrong.html"
    page.write_text(
        "<!doctype html><html lang=en><title>x</title><ul><p>one</p></ul><p id=a></p><p id=a></p>",
        encoding="utf-8",
    )
    found = " ".join(_errors([page]))
    assert "Element “p” not allowed as child of element “ul”" in found
    assert "Duplicate ID “a”" in found
