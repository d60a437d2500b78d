"""The commands about tenants' pages: addresses, their renewal, labels, and the sentences for a translator."""

from pathlib import Path

from generator.views.tenant_wording import english_file, load_wordings
from tests.unit.command.conftest import Run, Stock, house

PUBLISHED = "published: {engineers: 'https://a.example.org/b', tenants: 'https://t.example.org/'}\n"


def address_of(run: Run, reference: str, *more: str) -> str:
    return str(run("address", reference, *more).stdout.split()[1])


def test_renewing_changes_one_address_for_good(stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": house("EX-0002")})
    before, other = address_of(run, "EX-0001"), address_of(run, "EX-0002")
    done = run("address", "EX-0001", "--renew")
    assert done.exit_code == 0
    after = done.stdout.split()[1]
    assert after != before
    assert "hearthbook build" in done.stderr
    assert (folder / "tenancies.csv").read_text(encoding="utf-8").splitlines()[1].startswith("EX-0001,1,")
    assert run("build").exit_code == 0
    assert run("build").exit_code == 0, "and after another build"
    assert address_of(run, "EX-0001") == after
    assert address_of(run, "EX-0002") == other
    lost = Path("site-tenants/404.html").read_text(encoding="utf-8")
    assert Path("site-tenants", before, "index.html").read_text(encoding="utf-8") == lost
    assert "Heating help" in Path("site-tenants", after, "index.html").read_text(encoding="utf-8")
    assert address_of(run, "EX-0001", "--renew") not in (before, after)


def test_a_broken_record_keeps_its_renewed_address(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    after = address_of(run, "EX-0001", "--renew")
    stock({"EX-0001.yaml": "format: 1\nnonsense"})
    assert run("build").exit_code == 0
    assert "no steps for you" in Path("site-tenants", after, "index.html").read_text(encoding="utf-8")


def test_addresses_are_whole_where_it_is_known_where_the_site_is(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("hearthbook.yml").write_text(PUBLISHED, encoding="utf-8")
    assert address_of(run, "EX-0001").startswith("https://t.example.org/")


def test_a_file_of_renewals_that_cannot_be_stops_everything(stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001")})
    (folder / "tenancies.csv").write_text("nonsense\n", encoding="utf-8")
    for command in (
        ("build",),
        ("address", "EX-0001"),
        ("address", "EX-0001", "--renew"),
        ("label", "EX-0001"),
    ):
        done = run(*command)
        assert done.exit_code == 2
        assert "tenancies.csv:1: has to be reference,renewed,on" in done.stderr
    assert not Path("site-tenants").exists()


def test_labels_of_some_and_of_all(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001"), "EX-0002.yaml": "broken"})
    Path("hearthbook.yml").write_text(PUBLISHED, encoding="utf-8")
    done = run("label", "ex-0001", "-o", "one.html")
    assert done.exit_code == 0
    assert "one.html: 1 label." in done.stdout
    assert "no codes" not in done.stderr
    assert Path("one.html").read_text(encoding="utf-8").count("<article") == 1
    assert run("label", "--all").exit_code == 0
    text = Path("labels.html").read_text(encoding="utf-8")
    assert text.count("<svg viewBox") == 4
    assert "EX-0002" in text


def test_labels_without_codes_are_told(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    done = run("label", "EX-0001")
    assert done.exit_code == 0
    assert "`published.tenants` is not set" in done.stderr
    assert "<svg" not in Path("labels.html").read_text(encoding="utf-8")


def test_a_build_tells_what_is_not_set(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    assert "`firm.phone` is not set" in run("build").stderr
    Path("hearthbook.yml").write_text(f"firm: {{phone: 01632 960117}}\n{PUBLISHED}", encoding="utf-8")
    assert "not set" not in run("build").stderr


def test_labels_of_nothing_are_refused(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    for wrong in (
        ("label",),
        ("label", "--all", "EX-0001"),
        ("label", "EX-0009"),
        ("label", "EX-0001", "-o", "no/x"),
    ):
        assert run(*wrong).exit_code == 2


def test_the_sentences_are_printed_for_a_translator_and_missing_ones_told(stock: Stock, run: Run) -> None:
    folder = stock({"EX-0001.yaml": house("EX-0001")})
    printed = run("wording")
    assert printed.exit_code == 0
    assert printed.stdout == english_file().read_text(encoding="utf-8")
    (folder / "wording").mkdir()
    (folder / "wording" / "cy.yaml").write_text(printed.stdout, encoding="utf-8")
    assert load_wordings(folder)[1] == ()
    (folder / "tenancies.csv").write_text("reference,renewed,on\n", encoding="utf-8")
    assert "not read" not in run("check", folder).output, "neither is taken for a record gone astray"
    (folder / "wording" / "cy.yaml").write_text("page: {title: Help gyda gwres}\n", encoding="utf-8")
    Path("hearthbook.yml").write_text("tenants: {language: cy}\n", encoding="utf-8")
    done = run("build")
    assert done.exit_code == 0
    assert "wording/cy.yaml:1:1: warning: " in done.stderr
    assert "sentences are missing and are said in English" in done.stderr
    page = Path("site-tenants", address_of(run, "EX-0001"), "index.html").read_text(encoding="utf-8")
    assert '<html lang="cy"' in page
    assert "Help gyda gwres" in page
    assert "Never touch a wire." in page


def test_a_language_without_a_file_is_told(stock: Stock, run: Run) -> None:
    stock({"EX-0001.yaml": house("EX-0001")})
    Path("hearthbook.yml").write_text("tenants: {language: gd}\n", encoding="utf-8")
    done = run("build")
    assert done.exit_code == 0
    assert "no sentences in the language `gd`" in done.stderr
