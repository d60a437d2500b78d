"""A built site served on this machine, and what is asked of each of its pages."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from selenium.webdriver import Chrome

from tests.browser.overlaps import overlapping_texts
from tests.tools.accessibility import axe_violations


class _Silent(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:  # noqa: A002  # the name is the library's
        """Say nothing."""


@contextmanager
def served(site: Path) -> Iterator[str]:
    """Serve a folder; give its address, ending in a slash."""
    with ThreadingHTTPServer(("127.0.0.1", 0), partial(_Silent, directory=site)) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


def set_window(browser: Chrome, width: int, theme: str) -> None:
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 500}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    scheme = {"features": [{"name": "prefers-color-scheme", "value": theme}]}
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", scheme)


def reset_window(browser: Chrome) -> None:
    browser.execute_cdp_cmd("Emulation.clearDeviceMetricsOverride", {})
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"media": "", "features": []})
    browser.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": False})


def faults_of_page(browser: Chrome, width: int) -> list[str]:
    """Say what is wrong with the page shown: wider than the window, hard to read or to use, complaining, or asking elsewhere."""
    faults = []
    wide = browser.execute_script("return document.documentElement.scrollWidth")
    if wide > width:
        faults.append(f"it is {wide} wide in a window of {width}")
    faults += [f"text on text: {each}" for each in overlapping_texts(browser)]
    for each in axe_violations(browser):
        if each["impact"] in ("serious", "critical"):
            faults += [f"{each['id']}: {node['html'][:200]}" for node in each["nodes"]]
    return [*faults, *complaints(browser), *asked_elsewhere(browser)]


def complaints(browser: Chrome) -> list[str]:
    """Return the errors in the browser's log since it was last read."""
    log: list[dict[str, Any]] = browser.get_log("browser")  # type: ignore[no-untyped-call]  # selenium's own
    return [entry["message"] for entry in log if entry["level"] == "SEVERE"]


def asked_elsewhere(browser: Chrome) -> list[str]:
    """Return every address that the page asked something of, besides where it came from itself."""
    asked: list[str] = browser.execute_script(
        "return performance.getEntriesByType('resource').map((each) => each.name)"
        ".filter((name) => !name.startsWith('data:') && new URL(name).origin !== location.origin)"
    )
    return [f"asked of elsewhere: {each}" for each in asked]
