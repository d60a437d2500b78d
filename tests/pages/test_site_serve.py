"""The site shown on this machine follows the records."""

import os
import shutil
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.client import OK, HTTPConnection
from pathlib import Path

import pytest

from generator.plugin import CONTENT
from tests.pages.site_tools import SAMPLE, make_book, make_stock
from tests.tools.paths import PROPERTIES, ROOT, SITE_TEMPLATES

_CHILD = """
import sys
from pathlib import Path
from generator.plugin import serve_site
from generator.site import publish
properties, settings, book, address, content, waits_from = sys.argv[1:]
publish.WAITS_FROM = int(waits_from)
serve_site(
    properties=Path(properties), settings=Path(settings), mkdocs_file=Path(book), address=address, content=content
)
"""


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class _Served:
    def __init__(self, port: int) -> None:
        self._port = port

    def status(self, path: str) -> int:
        return self._get(path)[0]

    def text(self, path: str) -> str:
        return self._get(path)[1]

    def _get(self, path: str) -> tuple[int, str]:
        connection = HTTPConnection("127.0.0.1", self._port, timeout=30)
        try:
            connection.request("GET", path)
            answer = connection.getresponse()
            return answer.status, answer.read().decode()
        except OSError:
            return 0, ""
        finally:
            connection.close()


@contextmanager
def _served(properties: Path, book: Path, content: str, *, waits_from: int = 1_000) -> Iterator[_Served]:
    port = _free_port()
    arguments = [
        properties,
        properties.parent / "hearthbook.yml",
        book,
        f"127.0.0.1:{port}",
        content,
        waits_from,
    ]
    child = subprocess.Popen(
        [sys.executable, "-c", _CHILD, *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        yield _Served(port)
    finally:
        child.kill()
        child.wait()


def _comes(true: Callable[[], bool], *, most_s: float = 60) -> bool:
    end = time.monotonic() + most_s
    while time.monotonic() < end:
        if true():
            return True
        time.sleep(0.1)
    return False


@pytest.mark.slow
def test_pages_come_and_go_with_the_records(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "properties", "HB-0001")
    with _served(stock, make_book(tmp_path / "book"), SAMPLE) as site:
        assert _comes(lambda: site.status("/p/HB-0001/wiring/") == OK)
        assert site.status("/p/HB-0002/") == 404
        make_stock(stock, "HB-0002")
        assert _comes(lambda: site.status("/p/HB-0002/") == OK)
        (stock / "HB-0001.yaml").unlink()
        assert _comes(lambda: site.status("/p/HB-0001/") == 404)
        assert site.status("/p/HB-0002/") == OK


@pytest.mark.slow
def test_the_changed_property_comes_first_and_the_lists_follow(tmp_path: Path) -> None:
    stock = tmp_path / "properties"
    shutil.copytree(PROPERTIES / "house-types", stock / "house-types")
    file = stock / "FW-01.yaml"
    file.write_text((PROPERTIES / "FW-01.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    with _served(stock, SITE_TEMPLATES / "mkdocs.yml", CONTENT, waits_from=1) as site:
        assert _comes(lambda: site.status("/p/FW-01/record/") == OK)
        assert "2026-11-01" not in site.text("/stock/all.csv")
        text = file.read_text(encoding="utf-8").replace("on: 2026-10-13", "on: 2026-11-01")
        file.write_text(text, encoding="utf-8")
        assert _comes(lambda: "2026-11-01" in site.text("/p/FW-01/record/"))
        assert "2026-11-01" not in site.text("/stock/all.csv")
        assert _comes(lambda: "2026-11-01" in site.text("/stock/all.csv"))
