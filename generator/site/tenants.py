"""The tenants' site: one sheet a property at an address that nobody can guess, and nothing else.

It must not know the engineers' site; nothing from there comes here.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup, escape

from generator.site.errors import BadPage
from generator.site.swap import replaced
from generator.site.tree import Tree
from generator.templates import templates_dir

TENANTS = "tenants"

_SHEET = "tenant/sheet.html.j2"
_NOWHERE = "tenant/nowhere.html.j2"
_SHORTEST_NUMBER = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class TenantContact:
    """Whom to ring. Printed on every sheet, and on the page that a wrong address leads to.

    Attributes:
        firm_name: As tenants know it.
        firm_phone: As it is printed; words such as ``not set`` are shown as they are.
        gas_name: Whose number follows, such as ``Gas emergency``.
        gas_phone: The gas emergency number of the nation.
    """

    firm_name: str
    firm_phone: str
    gas_name: str
    gas_phone: str


@dataclass(frozen=True, slots=True, kw_only=True)
class TenantSheet:
    """What one tenant's sheet says, all of it plain text.

    Attributes:
        address: The folder of the page, from `tenant_address`.
        home: The property's address in one line.
        stop_when: When to stop and ring, one short sentence each; the most urgent first.
        never: What not to do, one short sentence each.
        still_works: What still works, one short sentence each; empty when nothing is known to.
        contact: Whom to ring.
        revision: Revision of the record and day of the last visit, in small type; empty for none.
        language: IANA language tag of all of it.
    """

    address: str
    home: str
    stop_when: tuple[str, ...]
    never: tuple[str, ...]
    still_works: tuple[str, ...]
    contact: TenantContact
    revision: str = ""
    language: str = "en"


def build_tenants_site(sheets: Iterable[TenantSheet], out: Path, *, contact: TenantContact) -> int:
    """Write the whole site and put it in the place of the old one.

    Args:
        sheets: Every property's sheet.
        out: The site's folder: absent, empty, or a tenants' site that we made.
        contact: For the page that a wrong or old address leads to.

    Returns:
        How many sheets there are.

    Raises:
        HearthbookError: the site cannot be put in its place; the old one stays.
    """
    environment = tenant_environment()
    sheet_template, nowhere = environment.get_template(_SHEET), environment.get_template(_NOWHERE)
    number = 0
    with replaced(out, audience=TENANTS) as new:
        tree = Tree(new, older=out if out.is_dir() else None)
        for sheet in sheets:
            if len(sheet.address) < 26 or not sheet.address.isalnum():
                raise BadPage(
                    sheet.address, "a tenants' address has at least 26 letters and digits (128 bits)"
                )
            tree.put(f"{sheet.address}/index.html", sheet_template.render(sheet=sheet).encode())
            number += 1
        # The first page holds no list, and its being there keeps a web server from making one.
        page = nowhere.render(contact=contact).encode()
        tree.put("index.html", page)
        tree.put("404.html", page)
    return number


def tenant_environment() -> Environment:
    """Return the templates of the tenants' pages, with every text escaped."""
    environment = Environment(
        loader=FileSystemLoader(templates_dir()),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
    )
    environment.globals["number"] = _number
    return environment


def _number(text: str) -> Markup:
    """A telephone number as a link that rings it; words such as `not set` as they are."""
    digits = re.sub(r"[^0-9+]", "", text)
    if len(digits) < _SHORTEST_NUMBER:
        return escape(text)
    return Markup('<a href="tel:{}">{}</a>').format(digits, text)
