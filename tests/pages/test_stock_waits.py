"""While a large stock is served, its own pages wait until those of the record that was changed have been seen."""

from collections.abc import Callable
from pathlib import Path

import pytest

from generator.site import publish
from generator.site.config import FirmConfig
from generator.site.page import SiteContent
from generator.site.publish import EngineersContent
from tests.pages.bulk_site import all_pages
from tests.tools.paths import PROPERTIES

FOUND = "All valves were greased"


@pytest.fixture
def stock(tmp_path: Path) -> Path:
    folder = tmp_path / "stock"
    folder.mkdir()
    for reference in ("FW-01", "FW-02"):
        text = (PROPERTIES / f"{reference}.yaml").read_text(encoding="utf-8")
        (folder / f"{reference}.yaml").write_text(text, encoding="utf-8")
    types = folder / "house-types"
    types.mkdir()
    for file in (PROPERTIES / "house-types").glob("*.yaml"):
        (types / file.name).write_bytes(file.read_bytes())
    return folder


@pytest.fixture
def make(stock: Path, tmp_path: Path) -> Callable[[], tuple[SiteContent, dict[str, str]]]:
    """Builds as a served site is built, again and again, and gives all its pages."""
    session = EngineersContent()

    def build() -> tuple[SiteContent, dict[str, str]]:
        content = session(stock, FirmConfig(base=tmp_path))
        return content, all_pages(content, tmp_path / "site")

    return build


def _visited(file: Path) -> None:
    """Add a visit, so that the property's last visit in the lists is another."""
    text = file.read_text(encoding="utf-8")
    before, _, after = text.partition("visits:\n")
    visit = f'  - {{on: 2026-11-01, by: heating engineer, found: "{FOUND}"}}\n'
    file.write_text(f"{before}visits:\n{visit}{after}", encoding="utf-8")


def _clean(stock: Path, tmp_path: Path) -> dict[str, str]:
    content = EngineersContent()(stock, FirmConfig(base=tmp_path))
    return all_pages(content, tmp_path / "clean")


def test_pages_of_the_stock_follow_with_the_build_that_is_due(
    stock: Path,
    make: Callable[[], tuple[SiteContent, dict[str, str]]],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(publish, "WAITS_FROM", 1)
    content, before = make()
    assert content.rest is not None
    assert not content.rest.left
    _visited(stock / "FW-01.yaml")
    content, after = make()
    assert FOUND in after["p/FW-01/record/"]
    assert content.rest is not None
    assert content.rest.left
    clean = _clean(stock, tmp_path)
    waiting = {url for url in clean if clean[url] != after[url]}
    assert waiting
    assert all(after[url] == before[url] and not url.startswith("p/") for url in waiting)
    assert make()[1] == after
    content.rest.due()
    content, last = make()
    assert last == clean
    assert content.rest is not None
    assert not content.rest.left


def test_nothing_waits_where_links_may_lead_to_what_is_gone(
    stock: Path, make: Callable[[], tuple[SiteContent, dict[str, str]]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(publish, "WAITS_FROM", 1)
    make()
    (stock / "FW-02.yaml").unlink()
    content, after = make()
    assert content.rest is not None
    assert not content.rest.left
    assert not any("FW-02" in after[url] for url in after if url.startswith("stock/"))


def test_pages_of_a_small_stock_never_wait(
    stock: Path, make: Callable[[], tuple[SiteContent, dict[str, str]]]
) -> None:
    make()
    _visited(stock / "FW-01.yaml")
    content, after = make()
    assert content.rest is not None
    assert not content.rest.left
    assert after["stock/all/"].count("2026-11-01")
