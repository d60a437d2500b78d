"""A build that uses what is kept from the last one gives the same bytes as a build from nothing, after any edits."""

import re
import shutil
from collections.abc import Callable
from datetime import date
from pathlib import Path
from random import Random

import pytest

from generator.kept import version
from generator.site import stock_build
from generator.site.config import read_config
from generator.site.page import SiteContent
from generator.site.publish_tenants import nowhere
from generator.site.sites import BothWritten, Sites
from generator.site.stage import Stage
from generator.site.stock_build import StockBuild
from generator.views.tenant_wording import load_wordings
from tests.pages.frames import write_framed
from tests.tools.paths import PROPERTIES

TODAY = date(2026, 11, 2)
SECRET = b"0" * 32
SAMPLE = ("EB-0012", "EB-0041", "EB-0090", "FW-01", "FW-02", "FW-04")


def make_stock(folder: Path) -> Path:
    """A small stock: houses of their own, houses of one type, a kind of the firm's own, pictures, settings."""
    folder.mkdir()
    for reference in SAMPLE:
        shutil.copy(PROPERTIES / f"{reference}.yaml", folder)
    for name in ("house-types", "kinds", "photos"):
        shutil.copytree(PROPERTIES / name, folder / name)
    (folder / "hearthbook.yml").write_text(
        "firm: {name: Some Homes, phone: 01632 960 117}\n", encoding="utf-8"
    )
    return folder


def build(stock: Path, out: Path, cache: Path, *, today: date = TODAY) -> BothWritten:
    """Build both sites into a folder."""
    firm = read_config(stock / "hearthbook.yml")
    firm = firm.model_copy(update={"outputs": firm.outputs.model_copy(update={"cache": str(cache)})})
    wordings = load_wordings(stock)[0]
    sites = Sites(
        StockBuild(stock, firm, today=today),
        engineers=out / "engineers",
        tenants=out / "tenants",
        secret=SECRET,
        nowhere=nowhere(firm, wordings),
        frames_depend_on="",
    )

    def write(site: Path, older: Path | None, content: SiteContent) -> Stage:
        return write_framed(site, older, content)

    return sites.build(write)


def contents(folder: Path) -> dict[str, bytes]:
    """Every file below a folder by its path."""
    return {
        file.relative_to(folder).as_posix(): file.read_bytes()
        for file in sorted(folder.rglob("*"))
        if file.is_file()
    }


Edit = Callable[[Path, Random], None]


def _change(file: Path, pattern: str, new: str) -> None:
    text = file.read_text(encoding="utf-8")
    changed = re.sub(pattern, new, text, count=1)
    file.write_text(changed, encoding="utf-8")


def _records(stock: Path) -> list[Path]:
    return sorted(stock.glob("*.yaml"))


def edit_words(stock: Path, chance: Random) -> None:
    _change(chance.choice(_records(stock)), r"found: (\w+)", rf"found: {chance.choice(('Once', 'Twice'))} \1")


def edit_address(stock: Path, chance: Random) -> None:
    _change(chance.choice(_records(stock)), r"town: [^,}]+", f"town: Upper <{chance.randrange(9)}> & Lower")


def edit_survey(stock: Path, chance: Random) -> None:
    _change(
        chance.choice(_records(stock)),
        r"sure: \{how: \w+, on: [\d-]+",
        f"sure: {{how: assumed, on: 2025-1{chance.randrange(3)}-03",
    )


def edit_lines(stock: Path, chance: Random) -> None:
    file = chance.choice(_records(stock))
    file.write_text("# one more line\n" + file.read_text(encoding="utf-8"), encoding="utf-8")


def edit_wiring(stock: Path, chance: Random) -> None:
    _change(chance.choice(_records(stock)), r"core: B[NK]\}", f"core: {chance.choice(('BN', 'BK', 'GY'))}}}")


def edit_house_type(stock: Path, chance: Random) -> None:
    file = stock / "house-types" / "fullers-walk-flat.yaml"
    _change(file, r"watts: \d+", f"watts: {chance.randrange(40, 160)}")


def break_record(stock: Path, chance: Random) -> None:
    _change(chance.choice(_records(stock)), r"kind: boiler", "kind: boiller")


def mend_record(stock: Path, chance: Random) -> None:
    del chance
    for file in _records(stock):
        _change(file, r"kind: boiller", "kind: boiler")


def delete_record(stock: Path, chance: Random) -> None:
    files = _records(stock)
    if len(files) > 2:
        chance.choice(files).unlink()


def add_record(stock: Path, chance: Random) -> None:
    reference = chance.choice(SAMPLE)
    shutil.copy(PROPERTIES / f"{reference}.yaml", stock)


def edit_kind(stock: Path, chance: Random) -> None:
    file = stock / "kinds" / "plinth-heater.yaml"
    _change(file, r"about: (.)", rf"about: {chance.choice(('Now', 'Then'))} \1")


def edit_settings(stock: Path, chance: Random) -> None:
    _change(stock / "hearthbook.yml", r"name: [^,]+", f"name: Firm {chance.randrange(5)}")


def lose_photo(stock: Path, chance: Random) -> None:
    photos = sorted((stock / "photos").iterdir())
    if photos:
        chance.choice(photos).unlink()


def renew_address(stock: Path, chance: Random) -> None:
    reference = chance.choice(SAMPLE)
    (stock / "tenancies.csv").write_text(
        f"reference,renewed,on\n{reference},{chance.randrange(1, 4)},2026-10-01\n", encoding="utf-8"
    )


EDITS: tuple[Edit, ...] = (
    edit_words,
    edit_address,
    edit_survey,
    edit_lines,
    edit_wiring,
    edit_house_type,
    break_record,
    mend_record,
    delete_record,
    add_record,
    edit_kind,
    edit_settings,
    lose_photo,
    renew_address,
)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2])
def test_incremental_is_clean(tmp_path: Path, seed: int) -> None:
    chance = Random(seed)  # noqa: S311  # edits, no secret
    stock, kept = make_stock(tmp_path / "stock"), tmp_path / "cache"
    build(stock, tmp_path / "out", kept)
    for number, edits in enumerate(_sequences(chance)):
        for edit in edits:
            edit(stock, chance)
        build(stock, tmp_path / "out", kept)
        shutil.rmtree(tmp_path / "clean", ignore_errors=True)
        build(stock, tmp_path / "clean", tmp_path / f"nothing-{number}")
        assert contents(tmp_path / "out") == contents(tmp_path / "clean"), [each.__name__ for each in edits]


def _sequences(chance: Random) -> list[list[Edit]]:
    """Every edit once, in an order and in groups drawn at random."""
    order = list(EDITS)
    chance.shuffle(order)
    groups = []
    while order:
        size = chance.randrange(1, 4)
        groups.append(order[:size])
        order = order[size:]
    return groups


def test_unchanged_stock_writes_nothing(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    again = build(stock, tmp_path / "out", tmp_path / "cache")
    assert again.patched
    assert again.stock.written == ()
    assert again.engineers.changed == 0


def test_one_edit_makes_one_property(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    edit_words(stock, Random(3))  # noqa: S311  # the same
    again = build(stock, tmp_path / "out", tmp_path / "cache")
    assert again.patched
    assert len(again.stock.written) == 1


def test_time_that_passes_makes_what_it_must(tmp_path: Path) -> None:
    """FW-04 has been assumed since February 2026; nothing else in the stock depends on the day."""
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    later = date(2027, 3, 1)
    again = build(stock, tmp_path / "out", tmp_path / "cache", today=later)
    assert "FW-04" in again.stock.written
    build(stock, tmp_path / "clean", tmp_path / "nothing", today=later)
    assert contents(tmp_path / "out") == contents(tmp_path / "clean")


def test_other_version_of_the_program_keeps_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    monkeypatch.setattr(stock_build, "program_version", lambda: "another")
    again = build(stock, tmp_path / "out", tmp_path / "cache")
    assert not again.patched
    assert len(again.stock.written) == len(SAMPLE)


def test_version_covers_sources_and_templates() -> None:
    assert len(version.program_version()) == 20


@pytest.mark.parametrize("harm", ["cut", "garbled", "empty"])
def test_harmed_cache_is_made_again(tmp_path: Path, harm: str) -> None:
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    for file in (tmp_path / "cache").rglob("*"):
        if file.is_file():
            data = file.read_bytes()
            file.write_bytes(
                {"cut": data[: len(data) // 2], "garbled": data[:-9] + b"\0" + data[-8:], "empty": b""}[harm]
            )
    before = contents(tmp_path / "out")
    build(stock, tmp_path / "out", tmp_path / "cache")
    assert contents(tmp_path / "out") == before


def test_a_site_that_lost_a_folder_is_built_whole(tmp_path: Path) -> None:
    stock = make_stock(tmp_path / "stock")
    build(stock, tmp_path / "out", tmp_path / "cache")
    before = contents(tmp_path / "out")
    shutil.rmtree(tmp_path / "out" / "engineers" / "p" / "FW-01")
    assert not build(stock, tmp_path / "out", tmp_path / "cache").patched
    assert contents(tmp_path / "out") == before
