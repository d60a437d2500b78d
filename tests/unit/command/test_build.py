"""Both sites from the command line: what it writes, what it says, and when it refuses."""

from pathlib import Path

import pytest

import generator.plugin
from generator.command.build import MixedOutputs
from tests.unit.command.conftest import NO_EARTH, NO_SUCH_DEVICE, Run, Stock, house

FAULTY = {
    "EX-0001.yaml": house("EX-0001"),
    "EX-0002.yaml": house("EX-0002", NO_EARTH),
    "EX-0003.yaml": house("EX-0003", NO_SUCH_DEVICE),
}


def test_findings_do_not_stop_a_build(stock: Stock, run: Run) -> None:
    stock(FAULTY)
    done = run("build")
    assert done.exit_code == 0, done.output
    assert ": danger: " in done.stdout.splitlines()[0]
    assert done.stdout.splitlines()[1].startswith("3 properties, ")
    assert "1 danger, 1 error" in done.stdout
    assert "`hearthbook check properties`" in done.stdout
    for reference in ("EX-0001", "EX-0002", "EX-0003"):
        assert Path("site", "p", reference, "index.html").is_file()
    said = run("address", "ex-0001", "EX-0003").stdout.split()
    assert said[0::2] == ["EX-0001", "EX-0003"]
    for folder in said[1::2]:
        assert Path("site-tenants", folder, "index.html").is_file()
    assert "A new secret was made" in done.stderr
    assert "secret" not in run("build").stderr


def test_a_picture_that_cannot_be_shown_is_told_and_stops_nothing(stock: Stock, run: Run) -> None:
    photo = "photos:\n  - {file: photos/box.svg, caption: The box, on: 2026-03-14}\n"
    stock({"EX-0001.yaml": house("EX-0001") + photo})
    Path("properties/photos").mkdir(exist_ok=True)
    Path("properties/photos/box.svg").write_text("no picture", encoding="utf-8")
    for _ in range(2):  # from nothing, and again
        done = run("build")
        assert done.exit_code == 0, done.output
        assert "warning: EX-0001.yaml: picture left out: the drawing is not well-formed" in done.stderr
    assert not Path("site/pictures/photos/box.svg").exists()


UPRN = ("  reference: EX-0001\n", "  reference: EX-0001\n  uprn: '100000000001'\n")


def test_a_build_says_what_a_check_says_whatever_was_said_before(stock: Stock, run: Run) -> None:
    """What is said is kept; each of these stocks differs from that before it in something that is to be said."""

    def numbered(reference: str, *changes: tuple[str, str]) -> str:
        before = UPRN[0].replace("EX-0001", reference)
        return house(reference, (before, UPRN[1].replace("EX-0001", reference)), *changes)

    sound = {"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002")}
    twice = {"EX-0001.yaml": numbered("EX-0001"), "EX-0002.yaml": numbered("EX-0002")}
    moved = twice | {"EX-0002.yaml": f"# A line more.\n{twice['EX-0002.yaml']}"}
    for files in (
        sound,
        sound | {"EX-0002.yaml": house("EX-0002", NO_EARTH)},
        twice,
        moved,
        moved | {"EX-0003.yaml": house("EX-0003", NO_SUCH_DEVICE)},
        sound,
        sound,
    ):
        stock(files)
        built, checked = run("build"), run("check")
        assert built.exit_code == 0
        (summary,) = [
            line for line in built.stdout.splitlines() if " propert" in line and "tells" not in line
        ]
        assert summary in checked.output.splitlines()[-1]
        dangers = [line for line in built.stdout.splitlines() if ": danger: " in line]
        assert all(line in checked.stdout for line in dangers)
        assert len(dangers) == checked.stdout.count(": danger: ")


def test_sites_go_where_they_are_wanted(stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001")})
    folder.rename(folder.with_name("records"))
    Path("firm.yml").write_text("outputs: {engineers: one, tenants: two}\n", encoding="utf-8")
    assert run("build", "--properties", "records", "--config", "firm.yml").exit_code == 0
    assert Path("one/index.html").is_file()
    assert Path("two/index.html").is_file()
    done = run("build", "--properties", "records", "--out", "a/b", "--tenants-out", "c")
    assert done.exit_code == 0
    assert "Engineers' site: a/b (" in done.stdout
    assert "(1 sheet)\n" in done.stdout
    assert Path("a/b/index.html").is_file()
    assert Path("c/index.html").is_file()


def test_settings_beside_the_records_are_found(stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001")})
    (folder / "hearthbook.yml").write_text(
        "outputs: {engineers: ../one, tenants: ../two}\n", encoding="utf-8"
    )
    assert "Engineers' site: one (" in run("build").stdout
    Path("hearthbook.yml").write_text("outputs: {engineers: three}\n", encoding="utf-8")
    assert "Engineers' site: three (" in run("build").stdout


@pytest.mark.parametrize(
    "options",
    [
        ["--out", "site-tenants"],
        ["--tenants-out", "site/tenants"],
        ["--out", "properties/site"],
        ["--out", "."],
        ["--config", "no-such.yml"],
        ["--properties", "no-such"],
    ],
)
def test_what_cannot_be_built_is_refused_first(options: list[str], stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    done = run("build", *options)
    assert done.exit_code == 2
    assert done.stderr.startswith("hearthbook: ")
    assert not Path("site").exists()
    assert not Path("home").exists(), "no secret was made"


def test_wrong_settings_are_told(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("hearthbook.yml").write_text("firm: {nmae: A}\n", encoding="utf-8")
    done = run("build")
    assert done.exit_code == 2
    assert "nmae" in done.stderr


def test_empty_folder_is_no_stock(stock: Stock, run: Run) -> None:
    stock({})
    assert run("build").exit_code == 2
    assert run("serve").exit_code == 2


def test_folder_that_is_not_ours_is_left_alone(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("site").mkdir()
    Path("site/letter.txt").write_text("mine", encoding="utf-8")
    done = run("build")
    assert done.exit_code == 2
    assert Path("site/letter.txt").read_text(encoding="utf-8") == "mine"


def test_serve_hands_over_what_was_asked_for(stock: Stock, run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    asked: dict[str, object] = {}
    monkeypatch.setattr(generator.plugin, "serve_site", lambda **given: asked.update(given))
    done = run("serve", "--address", "127.0.0.1:8080")
    assert done.exit_code == 0
    assert "http://127.0.0.1:8080/" in done.stderr
    assert asked == {
        "properties": Path("properties"),
        "settings": Path("hearthbook.yml"),
        "address": "127.0.0.1:8080",
    }


def test_address_of_no_property(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    assert run("address", "EX-0007").exit_code == 2
    assert not Path("home").exists()


def test_message_of_mixed_outputs_survives_pickling() -> None:
    error = MixedOutputs(Path("a"), Path("a/b"))
    assert "a and a/b lie in one another" in str(type(error)(*error.args))
