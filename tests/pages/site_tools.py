"""The site built from the sample stock, and what is asked of it again and again."""

import hashlib
from functools import partial
from pathlib import Path

from generator.plugin import write_site
from generator.site.build import build_engineers_site
from generator.site.stage import Written

SAMPLE = "tests.pages.sample_stock:sample_content"


def make_stock(folder: Path, *references: str) -> Path:
    """Make a folder of records for the sample, which goes by their names only."""
    folder.mkdir(parents=True, exist_ok=True)
    for reference in references:
        (folder / f"{reference}.yaml").touch()
    return folder


def build(out: Path, properties: Path, *, content: str = SAMPLE, settings: Path | None = None) -> Written:
    """Build the engineers' site as the command line does."""
    settings_file = settings or properties.parent / "hearthbook.yml"
    return build_engineers_site(
        out, write=partial(write_site, properties=properties, settings=settings_file, content=content)
    )


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
