"""The tenants' site: one page a property at an address that nobody can guess, and nothing else.

It must not know the engineers' site; nothing from there comes here.
"""

from collections.abc import Iterable

from generator.site.errors import BadPage

TENANTS = "tenants"
_SHORTEST = 26
"""Characters of an address: 26 of base32 are 130 bits."""
_ROBOTS = b"User-agent: *\nDisallow: /\n"


def tenants_rest(nowhere: str, old: Iterable[str]) -> dict[str, bytes]:
    """The files of the site that are no property's page.

    Args:
        nowhere: The page that a wrong or old address leads to.
        old: Addresses of tenancies that are over.
    """
    lost = nowhere.encode()
    # The first page holds no list, and its being there keeps a web server from making one.
    files = {"index.html": lost, "404.html": lost, "robots.txt": _ROBOTS}
    return files | {page_file(address): lost for address in old}


def page_file(address: str) -> str:
    """The file of the page at an address.

    Raises:
        BadPage: the address is one that can be guessed.
    """
    if len(address) < _SHORTEST or not (address.isascii() and address.isalnum()):
        raise BadPage(address, "a tenants' address has at least 26 letters and digits (128 bits)")
    return f"{address}/index.html"
