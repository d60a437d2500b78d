"""A real strict build of the sample stock: what is in it, what is not, and what a second build changes."""

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from generator.findings.errors import CannotReadFile
from generator.site.errors import BadPage, BrokenLinks, BuilderFailed, NotOurFolder
from generator.site.swap import MARK
from tests.pages.sample_stock import BROKEN, TABS
from tests.pages.site_tools import SAMPLE, build, content_of, make_book, make_stock, pages_of
from tests.tools.paths import ROOT, SITE_TEMPLATES

_SAMPLES = "tests.pages.sample_stock:"
# What a browser would fetch: addresses in attributes and in style sheets. Names of formats are none.
_LOADED = re.compile(
    r"""(?:src|href|action|poster|data)=["']?((?:https?:)?//[^"'>\s]+)|url\(["']?((?:https?:)?//[^)"']+)"""
)


def test_every_page_is_there(sample_site: Path) -> None:
    pages = pages_of(sample_site)
    for reference in ("HB-0001", "HB-0002"):
        for folder, _ in TABS:
            assert f"p/{reference}/{folder}index.html" in pages
    assert {"index.html", "cautions/index.html", "glossary/index.html", "drawings/index.html"} <= set(pages)
    assert (sample_site / "find" / "index.js").is_file()
    for asset in (SITE_TEMPLATES / "assets").iterdir():
        assert (sample_site / "assets" / asset.name).read_bytes() == asset.read_bytes()


def test_one_heading_and_no_mark_left(sample_site: Path) -> None:
    for path, html in pages_of(sample_site).items():
        assert html.count("<h1") == 1, path
        assert "hb-mark" not in html, path


def test_titles_are_escaped(sample_site: Path) -> None:
    html = (sample_site / "p/HB-0001/wiring/index.html").read_text(encoding="utf-8")
    assert '<meta name="description" content="Wiring at 14 Alder Row &amp; &lt;garden&gt;">' in html
    assert "<title>Wiring: HB-0001 - Hearthbook</title>" in html
    assert 'content:"HB-0001 \\000022house\\000022, record revision' in html


def test_nothing_is_loaded_from_another_host(sample_site: Path) -> None:
    for path in sorted(sample_site.rglob("*")):
        if path.suffix in (".html", ".css", ".json", ".xml", ".svg"):
            found = _LOADED.findall(path.read_text(encoding="utf-8"))
            assert found == [], path


def test_no_page_asks_to_be_found(sample_site: Path) -> None:
    for path, html in pages_of(sample_site).items():
        assert '<meta name="robots" content="noindex' in html, path


def test_the_frame_holds_nothing_of_the_stock(sample_site: Path) -> None:
    """Otherwise one new property would change every page."""
    for name in ("cautions", "glossary", "drawings"):
        assert "HB-0001" not in (sample_site / name / "index.html").read_text(encoding="utf-8")


def test_search_finds_what_asked_to_be_found(sample_site: Path) -> None:
    index = (sample_site / "search" / "search_index.json").read_text(encoding="utf-8")
    assert '"location":"rules/crossed-zones/"' in index
    assert "One thermostat opens the valve of another zone." in index
    assert "HB-0001" not in index


def test_twice_gives_the_same_bytes(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    first, second = build(tmp_path / "one", stock), build(tmp_path / "two", stock)
    assert content_of(tmp_path / "one") == content_of(tmp_path / "two")
    assert (
        first.changed == second.changed == first.pages + first.assets - 1
    )  # the home page is in another's frame


def test_a_second_build_changes_nothing(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    build(tmp_path / "site", stock)
    before = content_of(tmp_path / "site")
    assert build(tmp_path / "site", stock).changed == 0
    assert content_of(tmp_path / "site") == before


def test_pages_of_a_deleted_property_vanish(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001", "HB-0002")
    build(tmp_path / "site", stock)
    (stock / "HB-0002.yaml").unlink()
    build(tmp_path / "site", stock)
    assert [p.name for p in (tmp_path / "site" / "p").iterdir()] == ["HB-0001"]


@pytest.mark.parametrize(
    ("content", "error"),
    [
        ("content_with_broken_links", BrokenLinks),
        ("content_that_fails", CannotReadFile),
        ("content_without_home", BadPage),
        ("content_with_warning", BuilderFailed),
        ("content_that_does_not_exist", BuilderFailed),
    ],
)
def test_a_failed_build_leaves_the_old_site(tmp_path: Path, content: str, error: type[Exception]) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    build(tmp_path / "site", stock)
    before = content_of(tmp_path / "site")
    make_stock(stock, "HB-0002")
    with pytest.raises(error):
        build(tmp_path / "site", stock, content=f"{_SAMPLES}{content}")
    assert content_of(tmp_path / "site") == before
    assert sorted(p.name for p in tmp_path.iterdir() if p.is_dir()) == ["book", "properties", "site"]


def test_broken_links_are_named_with_their_page(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    with pytest.raises(BrokenLinks) as caught:
        build(tmp_path / "site", stock, content=f"{_SAMPLES}content_with_broken_links")
    page = "p/HB-0001/record/index.html"
    assert caught.value.broken == (
        f"{page}: '{BROKEN[4]}' leads out of the site",
        f"{page}: 'cautions/index.html' has no place '#nowhere'",
        f"{page}: '{BROKEN[3]}' leads to another host",
        f"{page}: 'p/HB-0001/nowhere/index.html' does not exist",
        f"{page}: no place '{BROKEN[2]}' on this page",
    )


def test_a_folder_of_somebody_else_is_left_alone(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    (tmp_path / "site").mkdir()
    (tmp_path / "site" / "letter.txt").write_text("keep me", encoding="utf-8")
    with pytest.raises(NotOurFolder):
        build(tmp_path / "site", stock)
    assert (tmp_path / "site" / "letter.txt").read_text(encoding="utf-8") == "keep me"


def test_login_note_stands_at_the_foot(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    settings = tmp_path / "firm.yml"
    settings.write_text(
        "firm:\n  name: Ember & Sons\n  login_note: For <our> engineers' eyes.\n", encoding="utf-8"
    )
    build(tmp_path / "site", stock, settings=settings)
    assert "For &lt;our&gt; engineers' eyes." in (tmp_path / "site/p/HB-0001/index.html").read_text(
        encoding="utf-8"
    )
    assert "Ember &amp; Sons" in (tmp_path / "site/index.html").read_text(encoding="utf-8")


# ----------------------------------------------------------------------------------------------- mkdocs by itself


def _mkdocs(folder: Path, content: str = SAMPLE) -> subprocess.CompletedProcess[str]:
    make_book(folder, extra=f"plugins:\n  - search\n  - hearthbook:\n      content: {content}\n")
    return subprocess.run(
        [sys.executable, "-m", "mkdocs", "build"],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "NO_MKDOCS_2_WARNING": "1"},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


def test_mkdocs_by_itself_builds_the_same_site(sample_site: Path, tmp_path: Path) -> None:
    make_stock(tmp_path / "properties", "HB-0001", "HB-0002")
    for _ in range(2):
        done = _mkdocs(tmp_path)
        assert done.returncode == 0, done.stderr
        assert "WARNING" not in done.stderr
        assert "Material for MkDocs" not in done.stderr
        assert content_of(tmp_path / "site") == content_of(sample_site)


def test_mkdocs_by_itself_drops_what_is_gone_and_keeps_what_is_not_when_it_fails(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001", "HB-0002")
    assert _mkdocs(tmp_path).returncode == 0
    (stock / "HB-0002.yaml").unlink()
    assert _mkdocs(tmp_path).returncode == 0
    assert [p.name for p in (tmp_path / "site" / "p").iterdir()] == ["HB-0001"]
    pages = content_of(tmp_path / "site" / "p")
    for content in ("content_that_fails", "content_without_home", "content_that_does_not_exist"):
        done = _mkdocs(tmp_path, f"{_SAMPLES}{content}")
        assert done.returncode == 1, done.stderr
        assert "Traceback" not in done.stderr
        assert content_of(tmp_path / "site" / "p") == pages
    assert not (tmp_path / "site" / ".hearthbook-aside").exists()
    assert (tmp_path / "site" / MARK).is_file()
