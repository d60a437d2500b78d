"""While a site is served, a record that breaks keeps its last good pages, with what is wrong above them."""

from pathlib import Path

from generator.site.config import FirmConfig
from generator.site.publish import EngineersContent
from tests.pages.bulk_site import write_bulk

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
        (row,) = content.bulk.rows  # type: ignore[union-attr]
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
