"""Compiled templates are kept, and a file of them that is not whole counts as none."""

from pathlib import Path

import pytest
from jinja2 import DictLoader, Environment

from generator.compiled_templates import Compiled

TEMPLATE = "{% for each in range(3) %}{{ each }}, {% endfor %}{{ words }}"


def rendered(folder: Path) -> str:
    cache = Compiled(str(folder), "template-%s.cache")
    return (
        Environment(autoescape=True, loader=DictLoader({"one": TEMPLATE}), bytecode_cache=cache)
        .get_template("one")
        .render(words="<b>")
    )


@pytest.mark.parametrize("left", [0, 5, 12, 20, 30, 45, 60, 100, 400])
def test_one_that_was_cut_short_is_compiled_again(left: int, tmp_path: Path) -> None:
    first = rendered(tmp_path)
    (file,) = tmp_path.iterdir()
    whole = file.read_bytes()
    file.write_bytes(whole[:left])
    assert rendered(tmp_path) == first == "0, 1, 2, &lt;b&gt;"
    assert file.read_bytes() == whole


def test_where_nothing_can_be_written_it_is_compiled_each_time(tmp_path: Path) -> None:
    assert rendered(tmp_path / "absent") == rendered(tmp_path)
