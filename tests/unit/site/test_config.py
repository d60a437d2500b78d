"""The firm's settings: defaults, and every fault with its place."""

from pathlib import Path

import pytest

from generator.findings.errors import CannotReadFile
from generator.site.config import NOT_SET, FirmConfig, read_config
from generator.site.errors import BadSettings


def written(tmp_path: Path, text: str) -> FirmConfig:
    file = tmp_path / "hearthbook.yml"
    file.write_text(text, encoding="utf-8")
    return read_config(file)


@pytest.mark.parametrize("text", [None, "", "# nothing yet\n", "firm: {}\n"])
def test_everything_has_a_default(tmp_path: Path, text: str | None) -> None:
    config = read_config(tmp_path / "none.yml") if text is None else written(tmp_path, text)
    assert (config.firm.name, config.firm.phone, config.firm.login_note) == (
        "The heating team",
        NOT_SET,
        None,
    )
    assert config.engineers_dir == tmp_path / "site"
    assert config.tenants_dir == tmp_path / "site-tenants"
    assert config.cache_dir == tmp_path / ".hearthbook-cache"
    assert config.secret_file == Path.home() / ".config/hearthbook/tenant-secret"


def test_a_number_without_quotes_stands_as_written(tmp_path: Path) -> None:
    assert written(tmp_path, "firm:\n  phone: 01632960123\n").firm.phone == "01632960123"


def test_paths_are_relative_to_the_file(tmp_path: Path) -> None:
    config = written(tmp_path, "outputs:\n  engineers: ../out/book\n  tenants: /srv/sheets\n")
    assert config.engineers_dir == tmp_path.parent / "out/book"
    assert config.tenants_dir == Path("/srv/sheets")


def test_where_the_sites_are_published(tmp_path: Path) -> None:
    text = "published: {engineers: 'https://a.example.org/b/', tenants: 'http://10.1.2.3:8080'}\ntenants: {language: pt-BR}\n"
    config = written(tmp_path, text)
    assert config.published.engineers == "https://a.example.org/b/"
    assert config.published.tenants == "http://10.1.2.3:8080"
    assert config.tenants.language == "pt-BR"


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("firm:\n  colour: red\n", "2:3: there is no setting `firm.colour`"),
        ("base: /tmp\n", "1:1: there is no setting `base`"),
        ("firm: Ember\n", "1:7: `firm` has to be a mapping, and is the text `Ember`"),
        ("- firm\n", "1:1: the file has to be a mapping, and is a list"),
        (
            "firm:\n  name: [a]\n",
            "2:9: `firm.name` has to be one line of text of at most 200 characters, and is a list",
        ),
        (
            "overrides:\n  vented_lever: allowed\n",
            "2:17: `overrides.vented_lever` has to be `not allowed` or `with a warning`, and is the text `allowed`",
        ),
        (
            "overrides:\n  lever_hours: 0\n",
            "2:16: `overrides.lever_hours` has to be a number of hours above 0 and up to 24, and is the whole number `0`",
        ),
        (
            "published:\n  tenants: www.example.org\n",
            (
                "2:12: `published.tenants` has to be an address such as `https://www.example.org/heating/`, and is the text "
                "`www.example.org`"
            ),
        ),
        (
            "published:\n  engineers: https://a.example.org/?x=1\n",
            (
                "2:14: `published.engineers` has to be an address such as `https://www.example.org/heating/`, and is the text "
                "`https://a.example.org/?x=1`"
            ),
        ),
        (
            "tenants:\n  language: Welsh\n",
            "2:13: `tenants.language` has to be a language tag such as `en` or `cy`, and is the text `Welsh`",
        ),
        (
            "outputs:\n  engineers: ~nobody_x/site\n",
            "2:14: `outputs.engineers` lies in the home of `nobody_x`, and this machine has no such user",
        ),
        ("firm:\n  name: a\n  name: b\n", "3:3: the key `name` is given twice; the second one is not read"),
    ],
)
def test_faults_have_their_place(tmp_path: Path, text: str, fault: str) -> None:
    with pytest.raises(BadSettings) as caught:
        written(tmp_path, text)
    assert caught.value.faults == (f"{tmp_path / 'hearthbook.yml'}:{fault}",)


def test_all_faults_at_once(tmp_path: Path) -> None:
    with pytest.raises(BadSettings) as caught:
        written(tmp_path, "firm:\n  colour: red\noutput: x\n")
    assert len(caught.value.faults) == 2


@pytest.mark.parametrize(
    "text",
    [
        "outputs:\n  tenants: site\n",
        "outputs:\n  tenants: site/tenants\n",
        "outputs:\n  engineers: site-tenants/book\n",
        "outputs:\n  cache: site/cache\n",
        "tenants:\n  secret: site-tenants/secret\n",
    ],
)
def test_outputs_and_secret_stay_apart(tmp_path: Path, text: str) -> None:
    with pytest.raises(BadSettings, match=r"lie in one another|lies in"):
        written(tmp_path, text)


def test_a_folder_is_no_settings_file(tmp_path: Path) -> None:
    with pytest.raises(CannotReadFile):
        read_config(tmp_path)


@pytest.mark.parametrize("value", ["yes", "1", "[true]", "'true'"])
def test_whether_the_firm_is_a_council_is_true_or_false(value: str, tmp_path: Path) -> None:
    file = tmp_path / "hearthbook.yml"
    file.write_text("tenants: {right_to_repair: true}\n", encoding="utf-8")
    assert read_config(file).tenants.right_to_repair
    file.write_text(f"tenants: {{right_to_repair: {value}}}\n", encoding="utf-8")
    with pytest.raises(BadSettings, match="has to be `true` or `false`"):
        read_config(file)
