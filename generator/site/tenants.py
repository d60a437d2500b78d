"""The tenants' site: one page a property at an address that nobody can guess, and nothing else.

It must not know the engineers' site; nothing from there comes here.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from generator.site.errors import BadPage
from generator.site.swap import replaced
from generator.site.tree import Tree

TENANTS = "tenants"
_SHORTEST = 26
"""Characters of an address: 26 of base32 are 130 bits."""
_ROBOTS = b"User-agent: *\nDisallow: /\n"


@dataclass(frozen=True, slots=True, kw_only=True)
class TenantFile:
    """A finished page.

    Attributes:
        address: The folder of the page, from `tenant_address`.
        old: Addresses that it had in tenancies that are over; they lead to whom to call.
        html: The whole document.
    """

    address: str
    html: str
    old: tuple[str, ...] = ()


def build_tenants_site(pages: Iterable[TenantFile], out: Path, *, nowhere: str) -> int:
    """Write the whole site and put it in the place of the old one.

    Args:
        pages: Every property's page.
        out: The site's folder: absent, empty, or a tenants' site that we made.
        nowhere: The page that a wrong or old address leads to.

    Returns:
        How many properties there are.

    Raises:
        HearthbookError: the site cannot be put in its place; the old one stays.
    """
    number = 0
    lost = nowhere.encode()
    with replaced(out, audience=TENANTS) as new:
        tree = Tree(new, older=out if out.is_dir() else None)
        for page in pages:
            tree.put(_file(page.address), page.html.encode())
            for old in page.old:
                tree.put(_file(old), lost)
            number += 1
        for path, data in tenants_rest(nowhere, ()).items():
            tree.put(path, data)
    return number


def tenants_rest(nowhere: str, old: Iterable[str]) -> dict[str, bytes]:
    """The files of the site that are no property's page.

    Args:
        nowhere: The page that a wrong or old address leads to.
        old: Addresses of tenancies that are over.
    """
    lost = nowhere.encode()
    # The first page holds no list, and its being there keeps a web server from making one.
    files = {"index.html": lost, "404.html": lost, "robots.txt": _ROBOTS}
    return files | {_file(address): lost for address in old}


def _file(address: str) -> str:
    if len(address) < _SHORTEST or not (address.isascii() and address.isalnum()):
        raise BadPage(address, "a tenants' address has at least 26 letters and digits (128 bits)")
    return f"{address}/index.html"
