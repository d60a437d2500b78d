"""The HTML of the tenants' pages: a property's own, and the one that a wrong or old address leads to.

A page is one file: pictures and style are in it, and it asks for nothing else. Knows nothing of addresses.
"""

import re
from functools import cache

from jinja2 import Environment
from markupsafe import Markup, escape

from generator.pages.environment import escaping
from generator.views.tenant_model import Picture, TenantPage
from generator.views.tenant_wording import Phrase

_SHORTEST_NUMBER = 3


def tenant_page_html(page: TenantPage) -> str:
    """The page of a property as a whole document.

    It loads nothing and has no script, so it can be shown inside another page as the ``srcdoc`` of a frame.
    """
    pictures = {
        picture_id(one.picture): one.picture
        for sheet in page.sheets
        for each in sheet.tries
        for one in each.steps
    }
    return filled(
        "tenant/sheet.html.j2", page=page, pictures=tuple(pictures.values()), text=page.wording.text
    )


def nowhere_html(page: TenantPage) -> str:
    """What a wrong or old address leads to: whom to ring, and nothing of any property."""
    return filled("tenant/nowhere.html.j2", page=page, text=page.wording.text)


def plain(phrase: Phrase) -> str:
    """A phrase as text."""
    return "".join(run.text for run in phrase)


def picture_id(picture: Picture) -> str:
    """The id of a picture's drawing on the page."""
    parts = [picture.name]
    if picture.of:
        parts += [str(picture.of), str(picture.which)]
    if picture.tank:
        parts.append("tank")
    return "-".join(parts)


def dialled(text: str) -> Markup:
    """A telephone number as a link that rings it; words as they are."""
    digits = re.sub(r"[^0-9+]", "", text)
    if len(digits) < _SHORTEST_NUMBER:
        return escape(text)
    return Markup('<a href="tel:{}">{}</a>').format(digits, text)


def filled(template: str, **given: object) -> str:
    """A template of the tenants' pages with what it needs, every text escaped."""
    return _environment().get_template(template).render(given)


@cache
def _environment() -> Environment:
    """The templates of the tenants' pages, with every text escaped; read once a process."""
    made = escaping(keep_trailing_newline=True)
    made.globals["number"] = dialled
    made.filters["plain"] = plain
    made.filters["picture_id"] = picture_id
    return made
