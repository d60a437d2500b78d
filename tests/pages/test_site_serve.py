"""The site shown on this machine follows the records."""

import os
import socket
import subprocess
import sys
import time
from http.client import HTTPConnection
from pathlib import Path

import pytest

from tests.pages.site_tools import SAMPLE, make_book, make_stock
from tests.tools.paths import ROOT

_CHILD = """
import sys
from pathlib import Path
from generator.plugin import serve_site
properties, settings, book, address, content = sys.argv[1:]
serve_site(
    properties=Path(properties), settings=Path(settings), mkdocs_file=Path(book), address=address, content=content
)
"""


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def _status(port: int, path: str) -> int:
    connection = HTTPConnection("127.0.0.1", port, timeout=5)
    try:
        connection.request("GET", path)
        return connection.getresponse().status
    except OSError:
        return 0
    finally:
        connection.close()


def _becomes(port: int, path: str, wanted: int) -> bool:
    end = time.monotonic() + 30
    while time.monotonic() < end:
        if _status(port, path) == wanted:
            return True
        time.sleep(0.1)
    return False


@pytest.mark.slow
def test_pages_come_and_go_with_the_records(tmp_path: Path) -> None:
    stock, port = make_stock(tmp_path / "properties", "HB-0001"), _free_port()
    arguments = [
        stock,
        tmp_path / "hearthbook.yml",
        make_book(tmp_path / "book"),
        f"127.0.0.1:{port}",
        SAMPLE,
    ]
    child = subprocess.Popen(
        [sys.executable, "-c", _CHILD, *map(str, arguments)],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        assert _becomes(port, "/p/HB-0001/wiring/", 200)
        assert _status(port, "/p/HB-0002/") == 404
        make_stock(stock, "HB-0002")
        assert _becomes(port, "/p/HB-0002/", 200)
        (stock / "HB-0001.yaml").unlink()
        assert _becomes(port, "/p/HB-0001/", 404)
        assert _status(port, "/p/HB-0002/") == 200
    finally:
        child.kill()
        child.wait()
