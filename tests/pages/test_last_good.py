"""While a site is served, a record that breaks keeps its last good pages, with what is wrong above them."""

import os
from pathlib import Path

import pytest

from generator.kept.store import Kept
from generator.pipeline import today
from generator.site.config import FirmConfig
from generator.site.pictures import published
from generator.site.publish import EngineersContent, PropertyPages
from generator.site.stock_build import Places, StockBuild
from generator.site.stock_written import Have
from tests.pages.bulk_site import FRAME, write_bulk

DEMO = Path(__file__).parents[2] / "properties" / "EB-0012.yaml"


def test_broken_record_keeps_its_pages_and_tells_what_is_wrong(tmp_path: Path) -> None:
    stock, root, firm = tmp_path / "stock", tmp_path / "site", FirmConfig(base=tmp_path)
    stock.mkdir()
    file = stock / "EB-0012.yaml"
    good = DEMO.read_text(encoding="utf-8")
    file.write_text(good, encoding="utf-8")
    make = EngineersContent()
    before = write_bulk(make(stock, firm), root)
    for wrong in ("kind: boiller", "kind: boiller "):
        file.write_text(good.replace("kind: boiler", wrong, 1), encoding="utf-8")
        content = make(stock, firm)
        after = write_bulk(content, root)
        for url in ("p/EB-0012/wiring/", "p/EB-0012/calls/", "p/EB-0012/readings/"):
            assert after[url].count("did you mean") == 1
            assert after[url].count("<tr") == before[url].count("<tr")
        (row,) = content.bulk.all.rows  # type: ignore[union-attr]
        # Whoever builds next, or asks for lists, goes by the record as it is.
        assert StockBuild(stock, firm, today=today()).holding() == {}
        assert row.arrangement
        assert [each.rule for each in row.findings if each.rule == "unknown-kind"]
    file.write_text(good, encoding="utf-8")
    assert write_bulk(make(stock, firm), root) == before


def test_record_that_was_never_good_says_only_what_is_wrong(tmp_path: Path) -> None:
    stock = tmp_path / "stock"
    stock.mkdir()
    (stock / "EB-0012.yaml").write_text("format: 1\nproperty: [", encoding="utf-8")
    after = write_bulk(EngineersContent()(stock, FirmConfig(base=tmp_path)), tmp_path / "site")
    assert "yaml-syntax" in after["p/EB-0012/"]
    assert "Not worked out" in after["p/EB-0012/wiring/"]


def test_the_ledger_is_read_again_only_where_another_build_wrote_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock, firm, read = tmp_path / "stock", FirmConfig(base=tmp_path), []
    stock.mkdir()
    file = stock / "EB-0012.yaml"
    file.write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
    really = Kept.read

    def noted(self: Kept, name: str) -> object | None:
        if name.startswith("ledger-") and not name.endswith("-since"):
            read.append(name)
        return really(self, name)

    monkeypatch.setattr(Kept, "read", noted)
    make = EngineersContent()
    for number in range(3):
        write_bulk(make(stock, firm), tmp_path / "site")
        file.write_text(f"{file.read_text(encoding='utf-8')}# {number}\n", encoding="utf-8")
    assert len(read) == 1
    write_bulk(EngineersContent()(stock, firm), tmp_path / "other site")
    assert len(read) == 2
    pages = write_bulk(make(stock, firm), tmp_path / "site")
    assert len(read) == 3
    assert pages == write_bulk(EngineersContent()(stock, firm), tmp_path / "clean")


def test_a_build_goes_by_what_was_served_before_it(tmp_path: Path) -> None:
    stock, firm = tmp_path / "stock", FirmConfig(base=tmp_path)
    stock.mkdir()
    (stock / "EB-0012.yaml").write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
    write_bulk(EngineersContent()(stock, firm), tmp_path / "site")
    served = StockBuild(stock, firm, today=today()).holding()
    places = Places(root=tmp_path / "built", tenants=tmp_path / "tenants", secret=b"s")
    frames = dict.fromkeys(PropertyPages.kinds, FRAME)
    built = StockBuild(stock, firm, today=today()).write(frames, places, Have())
    assert {stem: entry.pages for stem, entry in built.entries.items()} == {
        stem: entry.pages for stem, entry in served.items()
    }


def test_a_picture_put_in_the_place_of_one_that_is_being_published_is_published_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stock, firm = tmp_path / "stock", FirmConfig(base=tmp_path)
    (stock / "photos").mkdir(parents=True)
    (stock / "EB-0012.yaml").write_text(DEMO.read_text(encoding="utf-8"), encoding="utf-8")
    old, new = (
        f"<svg xmlns='http://www.w3.org/2000/svg' id='{each}'/>".encode() for each in ("old", "newer")
    )
    photo = stock / "photos" / "EB-0012-programmer.svg"
    photo.write_bytes(old)
    os.utime(photo, (0, 0))
    really = published

    def meanwhile(name: str, data: bytes) -> bytes:
        photo.write_bytes(new)
        os.utime(photo, (0, 0))
        return really(name, data)

    monkeypatch.setattr("generator.site.bulk.published", meanwhile)
    make = EngineersContent()
    write_bulk(make(stock, firm), tmp_path / "site")
    monkeypatch.undo()
    shown = tmp_path / "site" / "pictures" / "photos" / photo.name
    assert b"old" in shown.read_bytes()
    write_bulk(make(stock, firm), tmp_path / "site")
    assert b"newer" in shown.read_bytes()
