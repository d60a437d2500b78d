"""A page whose HTML is made only when somebody asks for it, and what tells whether it would be as it was.

It must not know what is on the page, nor where a site stands.
"""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class LatePage:
    """One page.

    Attributes:
        url: Address below the site's root.
        kind: What sort of page, a slug.
        title: Plain text.
        description: One plain sentence.
        make: Makes its HTML.
        made_from: Everything that the HTML is made from besides the program, as text; None where it takes as long to tell that as
            to make it.
        head: What goes into the page's head.
        search: Whether its words can be found by the search of the hand-written pages.
    """

    url: str
    kind: str
    title: str
    description: str
    make: Callable[[], str]
    made_from: str | None
    head: str = ""
    search: bool = False
