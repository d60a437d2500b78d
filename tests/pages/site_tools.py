"""The site built from the sample stock, and what is asked of it again and again."""

import hashlib
import shutil
from functools import partial
from pathlib import Path

from generator.plugin import write_site
from generator.site.build import build_engineers_site
from generator.site.stage import Written
from tests.tools.paths import SITE_TEMPLATES

HAND_WRITTEN = ("index.md", "drawings.md", "glossary.md", "cautions.md")
SAMPLE = "tests.pages.sample_stock:sample_content"


def make_stock(folder: Path, *references: str) -> Path:
    """Make a folder of records for the sample, which goes by their names only."""
    folder.mkdir(parents=True, exist_ok=True)
    for reference in references:
        (folder / f"{reference}.yaml").touch()
    return folder


def make_book(folder: Path, *, extra: str = "") -> Path:
    """Write an mkdocs.yml with the project's own frame and those hand-written pages that want nothing of the stock.

    Args:
        folder: Where to; the hand-written pages are copied below it.
        extra: More lines for the file.
    """
    docs = folder / "docs"
    docs.mkdir(parents=True, exist_ok=True)
    for name in HAND_WRITTEN:
        shutil.copy(SITE_TEMPLATES / "docs" / name, docs)
    file = folder / "mkdocs.yml"
    file.write_text(
        f"INHERIT: {SITE_TEMPLATES / 'mkdocs.yml'}\ndocs_dir: docs\nnav: [{', '.join(HAND_WRITTEN)}]\n"
        f"theme:\n  custom_dir: {SITE_TEMPLATES / 'theme'}\n{extra}",
        encoding="utf-8",
    )
    return file


def build(out: Path, properties: Path, *, content: str = SAMPLE, settings: Path | None = None) -> Written:
    """Build the engineers' site as the command line does."""
    write = partial(
        write_site,
        properties=properties,
        settings=settings or properties.parent / "hearthbook.yml",
        content=content,
        mkdocs_file=make_book(properties.parent / "book"),
    )
    return build_engineers_site(out, write=write)


def content_of(site: Path) -> dict[str, str]:
    """Return each file of a site with a digest of its bytes."""
    return {
        path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(site.rglob("*"))
        if path.is_file()
    }


def pages_of(site: Path) -> dict[str, str]:
    """Return the text of each HTML page of a site."""
    return {
        p.relative_to(site).as_posix(): p.read_text(encoding="utf-8") for p in sorted(site.rglob("*.html"))
    }
