"""The site of the sample stock, built once for all tests that only read it."""

from pathlib import Path

import pytest

from tests.pages.site_tools import build, make_stock


@pytest.fixture(scope="session")
def sample_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("sample")
    build(folder / "site", make_stock(folder / "properties", "HB-0001", "HB-0002"))
    return folder / "site"
