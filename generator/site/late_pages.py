"""Pages that are made late, as a site takes them: at once where nothing tells what they are made from, else when they are needed.

It must not know what is on a page.
"""

from functools import partial

from generator.kept.store import digest_of
from generator.pages.late_page import LatePage
from generator.site.page import Later, SitePage, page_path


def for_site(page: LatePage) -> SitePage | Later[SitePage]:
    """The page as a site takes it."""
    if page.made_from is None:
        return _made(page)
    return Later(
        path=page_path(page.url),
        made_from=digest_of(page.title, page.description, page.head, page.made_from),
        make=partial(_made, page),
    )


def _made(page: LatePage) -> SitePage:
    return SitePage(
        url=page.url,
        title=page.title,
        kind=page.kind,
        body=page.make(),
        description=page.description,
        head=page.head,
        search=page.search,
    )
