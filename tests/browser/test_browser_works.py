"""The browser and the accessibility checker do what the other tests here take for granted."""

from pathlib import Path

import pytest
from selenium.common.exceptions import WebDriverException
from selenium.webdriver import Chrome

from tests.tools.accessibility import axe_violations

_PAGE = """<!doctype html><html lang="en"><head><meta charset="utf-8"><title>A page</title></head>
<body><main><h1>A page</h1>{body}</main></body></html>"""


def test_checker_passes_a_good_page(browser: Chrome, tmp_path: Path) -> None:
    page = tmp_path / "good.html"
    page.write_text(_PAGE.format(body="<p>Some words.</p>"), encoding="utf-8")
    browser.get(page.as_uri())
    assert axe_violations(browser) == []


def test_checker_finds_a_picture_without_words(browser: Chrome, tmp_path: Path) -> None:
    page = tmp_path / "bad.html"
    page.write_text(
        _PAGE.format(body='<img src="data:image/gif;base64,R0lGODlhAQABAAAAACw=">'), encoding="utf-8"
    )
    browser.get(page.as_uri())
    assert [violation["id"] for violation in axe_violations(browser)] == ["image-alt"]


def test_other_hosts_cannot_be_reached(browser: Chrome) -> None:
    with pytest.raises(WebDriverException, match="ERR_NAME_NOT_RESOLVED"):
        browser.get("http://other-host.example/")
