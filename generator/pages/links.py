"""What finished HTML links to, and the places in it that a link may name.

It reads our own HTML, in which attributes stand in double quotes; it must not know what a site has.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape

_ATTRIBUTES = (b'href="', b'src="')
_ID = b'id="'
_END = b'"'
STATE = "state="
"""How a place begins that is a state of the house which a page can show."""


@dataclass(frozen=True, slots=True)
class Links:
    """What part of a page links to, each once and in order, and the places in it; these only if it links to any of its own."""

    wanted: tuple[str, ...]
    places: frozenset[str]


def links_of(part: bytes) -> Links:
    """Look for the links of a page or of a part of one.

    Args:
        part: HTML in UTF-8.
    """
    wanted = tuple(dict.fromkeys(links_in(part)))
    inside = any(link.startswith("#") for link in wanted)
    return Links(wanted, places_in(part) if inside else frozenset())


def links_in(html: bytes) -> Iterator[str]:
    """Yield the values of ``href`` and ``src`` in order of attribute; ``xlink:href`` and ``data-`` are passed over.

    Args:
        html: A page or a part of one, in UTF-8.
    """
    for attribute in _ATTRIBUTES:
        for at, value in _values(html, attribute):
            if html[at - 1 : at].isspace():
                yield value


def _values(html: bytes, attribute: bytes) -> Iterator[tuple[int, str]]:
    """Yield the places at which an attribute's name, or the end of a longer one, stands, each with the value."""
    at = html.find(attribute)
    while at >= 0:
        begin = at + len(attribute)
        end = html.find(_END, begin)
        end = len(html) if end < 0 else end
        yield at, unescape(html[begin:end].decode())
        at = html.find(attribute, end)


def places_in(html: bytes) -> frozenset[str]:
    """What a link to a page may name behind the ``#``: its ids, and ``state=...`` for each state that it can show."""
    places = set()
    for at, value in _values(html, _ID):
        if html[at - 1 : at].isspace():
            places.add(value)
        elif html.endswith(b"data-state-", 0, at):
            places.add(STATE + value)
    return frozenset(places)
