"""What a whole build knows of its pages and files, so that the next one makes them again only where they changed."""

from pathlib import Path

import pytest

from generator.site.page import Later, SiteAsset, SiteContent, SitePage
from generator.site.shell import Shells
from generator.site.stage import Stage
from tests.pages.frames import frame

PAGES = ("alone/", "in-its-place/")


@pytest.fixture
def stage(tmp_path: Path) -> Stage:
    made = Stage(tmp_path)
    content = SiteContent(
        pages=tuple(
            Later(
                path=f"{url}index.html",
                made_from=f"digest of {url}",
                make=lambda url=url: SitePage(url=url, title="T", kind="stock", body="<h1>T</h1>", description="D."),  # type: ignore[misc]
            )
            for url in PAGES
        ),
        assets=(
            Later(path="a.csv", made_from="digest of a", make=lambda: SiteAsset(path="a.csv", data=b"a")),
            SiteAsset(path="b.css", data=b"b"),
        ),
    )
    filled = made.write(content, shells=Shells(frame), taken=(), places=PAGES[1:])
    for page in filled.values():
        (tmp_path / page.path).parent.mkdir()
        (tmp_path / page.path).write_text(made.fill(page, frame(page.kind, page.depth)), encoding="utf-8")
    (tmp_path / "index.html").write_text("<html></html>", encoding="utf-8")
    made.finish(hand_written=[("./", "index.html")])
    return made


def test_each_is_known_by_what_it_was_made_from_wherever_it_stands(stage: Stage) -> None:
    files = stage.others("").files
    assert {path: each.made_from for path, each in files.items()} == {
        "alone/index.html": "digest of alone/",
        "in-its-place/index.html": "digest of in-its-place/",
        "a.csv": "digest of a",
        "b.css": "",
    }
    assert [each.url for each in files.values() if each.url] == list(PAGES)
