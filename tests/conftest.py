"""What every test has: the loud skips, and random tests that give the same result each time."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings

pytest_plugins = ["tests.tools.skips"]

# No deadline: the machines that run this are shared. `--hypothesis-profile=explore` searches anew each time.
settings.register_profile("steady", deadline=None, derandomize=True)
settings.register_profile(
    "explore", deadline=None, max_examples=1000, suppress_health_check=[HealthCheck.too_slow]
)
settings.load_profile("steady")

_BROWSER = Path(__file__).parent / "browser"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark everything in tests/browser, and keep it on one worker: one browser is enough for the machine."""
    for item in items:
        if _BROWSER in item.path.parents:
            item.add_marker(pytest.mark.browser)
            item.add_marker(pytest.mark.xdist_group("browser"))
