"""While a site is served, a record that breaks keeps its last good page, with what is wrong above it."""

from pathlib import Path

from generator.site.config import FirmConfig
from generator.site.page import SiteContent
from generator.site.publish import EngineersContent

DEMO = Path(__file__).parents[2] / "properties" / "EB-0012.yaml"


def pages(content: SiteContent) -> dict[str, str]:
    return {page.url: page.body for page in content.pages}


def test_broken_record_keeps_its_page_and_tells_what_is_wrong(tmp_path: Path) -> None:
    file = tmp_path / "EB-0012.yaml"
    good = DEMO.read_text(encoding="utf-8")
    file.write_text(good, encoding="utf-8")
    make = EngineersContent()
    before = pages(make(tmp_path, FirmConfig()))
    file.write_text(good.replace("kind: boiler", "kind: boiller", 1), encoding="utf-8")
    after = pages(make(tmp_path, FirmConfig()))
    for url in ("p/EB-0012/wiring/", "p/EB-0012/calls/", "p/EB-0012/readings/"):
        assert "did you mean" in after[url]
        assert after[url].count("<tr") == before[url].count("<tr")
    file.write_text(good, encoding="utf-8")
    assert pages(make(tmp_path, FirmConfig())) == before


def test_record_that_was_never_good_says_only_what_is_wrong(tmp_path: Path) -> None:
    (tmp_path / "EB-0012.yaml").write_text("format: 1\nproperty: [", encoding="utf-8")
    after = pages(EngineersContent()(tmp_path, FirmConfig()))
    assert "yaml-syntax" in after["p/EB-0012/"]
    assert "Not worked out" in after["p/EB-0012/wiring/"]
