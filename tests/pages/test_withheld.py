"""A record that gives away a secret is refused: nothing that was written in it reaches either site."""

from pathlib import Path

import pytest

from generator.site.config import FirmConfig
from generator.site.page import made
from generator.site.publish import EngineersContent
from tests.pages.bulk_site import all_pages, write_tenants

DEMO = Path(__file__).parents[2] / "properties" / "EB-0012.yaml"
GIVEN_AWAY = "notes: The key safe by the gate opens with 4821.\n"


@pytest.mark.parametrize("broken", [False, True])
def test_nothing_of_it_is_published(tmp_path: Path, broken: bool) -> None:
    text = DEMO.read_text(encoding="utf-8") + GIVEN_AWAY
    if broken:
        text = text.replace("format: 1", "format: 1\nno-such-key: 1", 1)
    (tmp_path / "EB-0012.yaml").write_text(text, encoding="utf-8")
    content = EngineersContent()(tmp_path, FirmConfig(base=tmp_path))
    pages = all_pages(content, tmp_path / "written")
    assert "secret-in-record" in pages["p/EB-0012/"]
    own = "".join(page for url, page in pages.items() if url.startswith("p/") or url == "./")
    assert "4821" not in own
    assert "Kiln Row" not in own
    assert all(b"4821" not in asset.data for asset in map(made, content.assets))
    page = write_tenants(tmp_path, FirmConfig(base=tmp_path), tmp_path / "tenants", b"0" * 32)["EB-0012"]
    assert "4821" not in page
    assert "Kiln Row" not in page
    assert "Stop and ring" in page
