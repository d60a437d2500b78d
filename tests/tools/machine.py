"""The programs of the machine that some tests need: which they are, whether they are here, how to get them.

They are Debian packages, not Python ones, so no extra of pyproject.toml can bring them.
"""

import os
import shutil
import subprocess
from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Tool:
    """A program that tests with the marker `marker` start, and the Debian packages that bring it."""

    marker: str
    program: str
    debian_packages: tuple[str, ...]


TOOLS = (
    # The font with the browser: without it the letters, and so the widths, differ from machine to machine.
    Tool(marker="browser", program="chromium", debian_packages=("chromium", "fonts-liberation")),
    Tool(marker="browser", program="chromedriver", debian_packages=("chromium-driver",)),
    Tool(marker="validator", program="java", debian_packages=("default-jre-headless",)),
    Tool(marker="simulator", program="ngspice", debian_packages=("ngspice",)),
)

MARKERS = tuple(dict.fromkeys(tool.marker for tool in TOOLS))


def missing_tools() -> tuple[Tool, ...]:
    return tuple(tool for tool in TOOLS if shutil.which(tool.program) is None)


def missing_for(marker: str) -> tuple[Tool, ...]:
    return tuple(tool for tool in missing_tools() if tool.marker == marker)


def packages_of(tools: tuple[Tool, ...]) -> tuple[str, ...]:
    return tuple(package for tool in tools for package in tool.debian_packages)


def may_install() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0 and shutil.which("apt-get") is not None


def get_missing_tools(environment: Mapping[str, str]) -> None:
    """Install the missing programs where this user may; otherwise say what will be skipped.

    A failed installation is reported and left at that: the tests that need the program then skip or, where
    skips are forbidden, fail.
    """
    missing = missing_tools()
    if not missing:
        return
    packages = packages_of(missing)
    if not may_install():
        print(f"not here, and not ours to install: {' '.join(packages)}. Tests that need them are skipped.")
        return
    print(f"installing Debian packages that tests need: {' '.join(packages)}", flush=True)
    quiet = {**environment, "DEBIAN_FRONTEND": "noninteractive"}
    for command in (
        ["apt-get", "update", "-qq"],
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages],
    ):
        done = subprocess.run(command, env=quiet, stdout=subprocess.DEVNULL, check=False)
        if done.returncode:
            print(f"`{' '.join(command)}` failed with exit code {done.returncode}", flush=True)
            return
