"""The accessibility checker that is run inside a page: axe-core, from a wheel, so that nothing is fetched."""

from functools import cache
from importlib.metadata import files
from pathlib import Path
from typing import Any

from selenium.webdriver.remote.webdriver import WebDriver

_DISTRIBUTION = "selenium-axe-python"


@cache
def axe_source() -> str:
    """Return the text of the script; only its file is used, not the Python around it."""
    for file in files(_DISTRIBUTION) or ():
        if file.name == "axe.min.js":
            return Path(str(file.locate())).read_text(encoding="utf-8")
    message = f"{_DISTRIBUTION} carries no axe.min.js"
    raise FileNotFoundError(message)


def axe_violations(driver: WebDriver) -> list[dict[str, Any]]:
    """Check the page that `driver` shows.

    Returns:
        What axe-core calls violations, each with `id`, `impact`, `help` and the `nodes` concerned; empty if none.
    """
    driver.execute_script(axe_source())
    found: dict[str, Any] = driver.execute_async_script(
        "const done = arguments[arguments.length - 1];"
        "axe.run(document, {resultTypes: ['violations']}).then(done, e => done({violations: [{id: String(e)}]}));"
    )
    violations: list[dict[str, Any]] = found["violations"]
    return violations
