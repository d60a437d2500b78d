"""Pages put together from what houses built alike share are those rendered for each house by itself, byte for byte."""

from datetime import date
from pathlib import Path

import pytest

from generator.kept.store import Kept
from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pages.links import links_of
from generator.pages.pieces import ForTenant, ShownPhoto
from generator.pages.property_pages import property_bodies
from generator.pipeline import examine
from generator.site.config import FirmConfig
from generator.site.property_pages import RULES, make_property
from generator.site.publish_tenants import Sheets
from generator.views.overrides import overrides_view
from generator.views.property import property_view
from generator.views.stock_row import stock_row
from generator.views.tenant_wording import load_wordings
from generator.views.worked_out import worked_out
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 2)
REFERENCES = sorted(file.stem for file in PROPERTIES.glob("*.yaml"))
SHEETS = Sheets(firm=FirmConfig(), wordings=load_wordings(PROPERTIES)[0])
QUICK = ("FW-01", "FW-02", "FW-03", "FW-04")
"""Built alike: these do share."""
_LINKED = 3
"""Of so many pages at least the links are known from the houses alike: wiring, calls and readings."""


@pytest.fixture(scope="module")
def kept(tmp_path_factory: pytest.TempPathFactory) -> Kept:
    return Kept(tmp_path_factory.mktemp("kept"), "test")


@pytest.mark.parametrize(
    "reference",
    [pytest.param(each, marks=() if each in QUICK else pytest.mark.slow) for each in REFERENCES],
)
def test_shared_pages_are_the_houses_own(reference: str, kept: Kept) -> None:
    file: Path = PROPERTIES / f"{reference}.yaml"
    made = make_property(
        file,
        today=TODAY,
        kept=kept,
        pictures=lambda _: True,
        sheets=SHEETS,
    )
    examination = examine(file, today=TODAY)
    assert made.known.findings == examination.findings
    assert made.row == stock_row(examination, worked_out(examination), stem=reference)
    found = overrides(examination.solution, examination.findings, Policy())
    assert made.overrides == found
    view = property_view(examination, stem=reference)
    sheet = SHEETS.html(examination, found, revision=view.revision)
    assert view.record is not None
    bodies = property_bodies(
        view,
        rules=RULES,
        photos=tuple(
            ShownPhoto(url=f"pictures/{photo.file}", caption=photo.caption, on=photo.on)
            for photo in view.record.photos
        ),
        for_tenant=ForTenant(view=overrides_view(examination.circuit, found), page=sheet),
    )
    assert made.sheet == sheet
    assert [(page.title, page.description, page.head) for page in made.pages] == [
        (body.title, body.description, body.head) for body in bodies
    ]
    for page, body in zip(made.pages, bodies, strict=True):
        assert page.body == body.html, page.url
        assert page.links is None or page.links == links_of(body.html.encode()), page.url
    assert sum(page.links is not None for page in made.pages) >= _LINKED
