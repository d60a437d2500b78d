"""The frame that our pages are put into is the one that mkdocs would have given them."""

import difflib
import os
import subprocess
import sys
from pathlib import Path

from generator.site.config import FirmConfig
from generator.site.page import HOME, SiteAsset, SiteContent, SitePage
from tests.pages.site_tools import make_book
from tests.tools.paths import ROOT

_BODY = '<h1>A page of two makers</h1>\n<p>Some words &amp; <a href="../../cautions/">a link</a>.</p>'


def content(_properties: Path, _config: FirmConfig) -> SiteContent:
    """One page of ours, and the home page."""
    page = SitePage(url="made/ours/", title="Two makers", kind="trial", body=_BODY, description="A trial.")
    home = SitePage(url=HOME, title="Home", kind="home", body="<h1>Home</h1>", description="")
    return SiteContent(pages=(home, page), assets=(SiteAsset(path="assets/drawings.css", data=b""),))


def test_our_frame_is_the_one_of_mkdocs(tmp_path: Path) -> None:
    make_book(
        tmp_path,
        extra="site_url: https://book.example/\nstrict: false\nvalidation:\n  nav:\n    omitted_files: ignore\n"
        "plugins:\n  - search\n  - hearthbook:\n      content: tests.pages.test_site_frame:content\n",
    )
    made = tmp_path / "docs" / "made"
    made.mkdir()
    head = "title: Two makers\ndescription: A trial.\nkind: trial\nhide: [navigation, toc]"
    (made / "theirs.md").write_text(f"---\n{head}\n---\n\n{_BODY}\n", encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "mkdocs", "build", "-q"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    site = tmp_path / "site"
    ours = (site / "made/ours/index.html").read_text(encoding="utf-8")
    theirs = (
        (site / "made/theirs/index.html").read_text(encoding="utf-8").replace("made/theirs/", "made/ours/")
    )
    changed = [
        line.strip()
        for line in difflib.ndiff(theirs.splitlines(), ours.splitlines())
        if line[0] in "+-" and line[1:].strip()
    ]
    # Ours has a skip link; theirs has none, because the heading of raw HTML is in no table of contents.
    assert changed == [
        '+         <a href="#hb-content" class="md-skip">',
        "+           Skip to content",
        "+         </a>",
    ]
    assert '<link rel="canonical" href="https://book.example/made/ours/">' in ours
    sitemap = (site / "sitemap.xml").read_text(encoding="utf-8")
    assert "<loc>https://book.example/made/ours/</loc>" in sitemap
    assert "<loc>https://book.example/</loc>" in sitemap
