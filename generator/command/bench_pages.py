"""The same finished pages written in several ways: by our page stage, by mkdocs-material as Markdown, and by a bare loop.

It must not know what is on a page, nor how figures are told.
"""

import sys
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from pathlib import Path
from time import perf_counter

from jinja2 import Environment, Template

from generator.command.bench_runs import Run, timed
from generator.kept.store import Kept
from generator.kept.version import program_version
from generator.plugin import write_site
from generator.site.config import FirmConfig
from generator.site.links import LinkCheck
from generator.site.page import SiteContent, SitePage, made
from generator.site.property_pages import make_property
from generator.site.publish import other_assets, other_pages
from generator.site.publish_tenants import Sheets
from generator.site.shell import BODY, DESCRIPTION, HEAD, TITLE, Shell, body_of, head_of
from generator.site.tree import Tree
from generator.views.stock_model import StockRow
from generator.views.stock_tables import Stock
from generator.views.tenant_wording import load_wordings


@dataclass(frozen=True, slots=True, kw_only=True)
class Pages:
    """Finished pages of some properties, and the rows of these for the other pages of a site."""

    pages: tuple[SitePage, ...]
    rows: tuple[StockRow, ...]

    @property
    def properties(self) -> int:
        """How many properties there are."""
        return len(self.rows)

    @property
    def per_property(self) -> float:
        """How many pages a property has."""
        return len(self.pages) / self.properties

    @property
    def bytes_per_property(self) -> float:
        """How long they are together, without frames."""
        return sum(len(page.body) + len(page.head) for page in self.pages) / self.properties


@dataclass(frozen=True, slots=True, kw_only=True)
class OurStage:
    """Our page stage: with the hand-written pages, and the properties' pages alone, as a build writes them in bulk."""

    whole: Run
    pages: Run


def some_pages(folder: Path, count: int, cache: Path, today: date) -> Pages:
    """The finished pages of every so manieth record of a folder, from what a build has left in its cache where it can be."""
    files = sorted(folder.glob("*.yaml"))
    files = files[:: max(1, len(files) // count)][:count]
    kept = Kept(cache, program_version())
    sheets = Sheets(firm=FirmConfig(), wordings=load_wordings(folder)[0])
    pages: list[SitePage] = []
    rows: list[StockRow] = []
    for file in files:
        property_pages = make_property(
            file,
            today=today,
            kept=kept,
            pictures=lambda _: False,
            sheets=sheets,
        )
        pages += property_pages.pages
        rows.append(property_pages.row)
    return Pages(pages=tuple(pages), rows=tuple(rows))


def our_stage(
    pages: Pages, place: Path, folder: Path, today: date
) -> tuple[OurStage, dict[tuple[str, int], str]]:
    """Write the pages into a site as a build does, and return the frames besides.

    Their links are gathered and held against the site, as in a build.
    """
    whole, frames = _written(pages, place / "all", folder, today)
    command = "generator.plugin.write_site"
    return (
        OurStage(
            whole=Run(command=command, seconds=whole),
            pages=Run(
                command="Shell.fill, LinkCheck.gather, Tree.put",
                seconds=_least(place, lambda fresh: _in_bulk(pages, fresh, frames)),
            ),
        ),
        frames,
    )


def _written(pages: Pages, site: Path, folder: Path, today: date) -> tuple[float, dict[tuple[str, int], str]]:
    site.mkdir(parents=True)
    stock = Stock(pages.rows, today)
    others = tuple(map(made, other_pages(stock, firm="Bench", properties=folder)))
    assets = tuple(map(made, other_assets(stock)))
    content = SiteContent(pages=(*others, *pages.pages), assets=assets)
    begun = perf_counter()
    stage = write_site(site, None, properties=folder, settings=folder / "none.yml", maker=lambda *_: content)
    return perf_counter() - begun, dict(stage.framework.frames)


def _least(place: Path, once: Callable[[Path], float]) -> float:
    """The least of a few runs, each into a folder that is not there yet: these are short, and other work disturbs them."""
    return min(once(place / f"again-{number}") for number in range(_RUNS))


_RUNS = 5


def _in_bulk(pages: Pages, place: Path, frames: Mapping[tuple[str, int], str]) -> float:
    """Write the pages as a process of a build does: filled into frames, links gathered, digests taken, whole or not at all."""
    shells = {key: Shell(text, *key) for key, text in frames.items()}
    begun = perf_counter()
    tree, links, digest = Tree(place), LinkCheck(), sha256()
    for page in pages.pages:
        shell = shells[page.kind, page.depth]
        filled = shell.fill(page)
        links.gather(page.path, filled.links, shell.places)
        digest.update(filled.body)
        tree.put(page.path, filled.html)
    return perf_counter() - begun


def plain_builder(pages: Pages, place: Path) -> Run:
    """Give the same pages to mkdocs-material as Markdown, with its search, and nothing in its navigation."""
    docs = place / "docs"
    for page in pages.pages:
        file = docs / f"{page.url.rstrip('/')}.md"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(f"---\ntitle: {page.title!r}\n---\n\n{_one_block(body_of(page))}\n", encoding="utf-8")
    (docs / "index.md").write_text("# Home\n", encoding="utf-8")
    (place / "mkdocs.yml").write_text(
        "site_name: Plain\ntheme: {name: material, font: false}\nnav: [{Home: index.md}]\n"
        "plugins: [search]\nvalidation: {nav: {omitted_files: ignore}, links: {not_found: ignore, unrecognized_links: ignore}}\n",
        encoding="utf-8",
    )
    return timed([sys.executable, "-m", "mkdocs", "build", "--quiet"], "mkdocs build", cwd=place)


def _one_block(html: str) -> str:
    """HTML that Markdown leaves as it is: in one block, without an empty line."""
    lines = "\n".join(line for line in html.split("\n") if line.strip())
    return f"<div>\n{lines}\n</div>"


def bare_loop(pages: Pages, place: Path, frames: dict[tuple[str, int], str]) -> Run:
    """Render a template for every page and write it: the least that any way in this language must do."""
    environment = Environment(autoescape=False)  # noqa: S701  # finished HTML, and nothing is shown to anybody
    marks = ((TITLE, "title"), (DESCRIPTION, "description"), (HEAD, "head"), (BODY, "body"))
    templates = {}
    for key, frame in frames.items():
        text = frame.replace("{{", "{{ '{{' }}").replace("{%", "{{ '{%' }}").replace("{#", "{{ '{#' }}")
        for mark, name in marks:
            text = text.replace(mark, "{{ " + name + " }}")
        templates[key] = environment.from_string(text)
    seconds = _least(place, lambda fresh: _rendered(pages, fresh, templates))
    return Run(command="Environment.from_string, render, write", seconds=seconds)


def _rendered(pages: Pages, place: Path, templates: Mapping[tuple[str, int], Template]) -> float:
    begun = perf_counter()
    for page in pages.pages:
        template = templates[page.kind, page.depth]
        html = template.render(
            title=page.title, description=page.description, head=head_of(page), body=body_of(page)
        )
        file = place / page.path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(html.encode())
    return perf_counter() - begun
