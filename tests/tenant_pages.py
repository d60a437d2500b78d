"""Finished tenants' pages of the demo stock, for tests that read, print or search them."""

from functools import cache
from pathlib import Path

from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pages.tenant_pages import tenant_page_html
from generator.pipeline import Examination, examine, today
from generator.views.tenant import tenant_page
from generator.views.tenant_model import Firm
from generator.views.tenant_wording import ENGLISH, load_wordings
from tests.hand_made_overrides import hand_made

PROPERTIES = Path(__file__).parents[1] / "properties"
FIRM = Firm(name="Ember & Sons, Valley Homes heating team", phone="01632 960123")
"""The number is of a range that the telephone regulator keeps free for fiction."""
REFERENCES = tuple(sorted(file.stem for file in PROPERTIES.glob("*.yaml")))


@cache
def examined(reference: str) -> Examination:
    return examine(PROPERTIES / f"{reference}.yaml", today=today())


@cache
def page_without_steps(reference: str) -> str:
    """The page as it is where nothing is proved."""
    wording = load_wordings()[0][ENGLISH]
    return tenant_page_html(
        tenant_page(examined(reference), None, wording=wording, firm=FIRM, revision="b7a1")
    )


@cache
def page_proved(reference: str) -> str:
    """The page as the firm's tenants get it: with the steps that are proved for the house, and no others."""
    examination = examined(reference)
    found = overrides(examination.solution, examination.findings, Policy())
    wording = load_wordings()[0][ENGLISH]
    return tenant_page_html(tenant_page(examination, found, wording=wording, firm=FIRM, revision="b7a1"))


@cache
def page_with_every_step(reference: str) -> str:
    """The page with steps written by hand, more of them than any proof would give."""
    examination = examined(reference)
    made = hand_made(examination.circuit) if examination.circuit is not None else None
    wording = load_wordings()[0][ENGLISH]
    return tenant_page_html(tenant_page(examination, made, wording=wording, firm=FIRM, revision="b7a1"))
