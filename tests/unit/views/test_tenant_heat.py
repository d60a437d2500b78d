"""A tenants' page speaks of what heats the home: no boiler where there is none."""

from datetime import date
from functools import cache
from pathlib import Path

import pytest

from generator.overrides.overrides import overrides
from generator.overrides.policy import Policy
from generator.pages.tenant_pages import tenant_page_html
from generator.pipeline import Examination, examine
from generator.views.tenant import tenant_page
from generator.views.tenant_heat import heard
from generator.views.tenant_model import Firm
from generator.views.tenant_wording import load_wordings
from tests.odd_heat_houses import changed, flat, heat_pump_with_buffer, written
from tests.tools.paths import PROPERTIES

DAY = date(2026, 11, 25)


@cache
def demo(reference: str) -> Examination:
    return examine(PROPERTIES / f"{reference}.yaml", today=DAY)


def page(seen: Examination) -> str:
    """The whole page, in small letters, without its style and its pictures."""
    found = overrides(seen.solution, seen.findings, Policy())
    wording = load_wordings()[0]["en"]
    made = tenant_page(
        seen, found, wording=wording, firm=Firm(name="F", phone="01632 960 117"), revision="b7a1"
    )
    return tenant_page_html(made).lower()


@pytest.mark.parametrize(
    ("reference", "service", "sound"),
    [
        ("EB-0066", "hot-water", "boiler"),
        ("EB-0167", "heating", "heat-pump"),
        ("EB-0164", "store", "boiler"),
        ("EB-0164", "living", ""),
    ],
)
def test_what_may_be_heard_is_what_makes_the_heat(reference: str, service: str, sound: str) -> None:
    circuit = demo(reference).circuit
    assert circuit is not None
    assert heard(circuit, [service]) == sound


def test_nothing_is_heard_of_a_heat_network_or_where_one_of_two_may_start(tmp_path: Path) -> None:
    unit = examine(written(flat(), tmp_path), today=DAY).circuit
    store = demo("EB-0164").circuit
    assert unit is not None
    assert store is not None
    assert heard(unit, ["heating"]) == heard(unit, ["taps"]) == ""
    assert heard(store, ["store", "living"]) == ""


def test_a_home_with_a_heat_pump_reads_of_no_boiler(tmp_path: Path) -> None:
    with_buffer = examine(written(heat_pump_with_buffer(), tmp_path, "EB-0167"), today=DAY)
    for seen in (demo("EB-0167"), with_buffer):
        said = page(seen)
        assert "boiler" not in said
        assert "heat pump start" in said


def test_a_flat_on_a_heat_network_reads_of_no_boiler_gas_or_carbon_monoxide(tmp_path: Path) -> None:
    said = page(examine(written(flat(), tmp_path), today=DAY))
    for word in ("boiler", "smell gas", "gas leak", "monoxide"):
        assert word not in said
    assert "look at your heat meter." in said
    assert "heat unit." in said
    assert "no hot water, but the rooms are fine" in said


def test_rooms_are_felt_late_where_a_store_has_to_get_hot_first() -> None:
    said = page(demo("EB-0164"))
    assert "about 90 minutes: <bdi" in said or "about 90 minutes:" in said
    assert "you may hear the boiler start" in said


def test_a_record_that_cannot_be_read_still_warns_of_a_boiler_and_gas(tmp_path: Path) -> None:
    broken = written(changed("EB-0167", ("kind: heat-pump", "kind: heat-pumq")), tmp_path, "EB-0167")
    seen = examine(broken, today=DAY)
    wording = load_wordings()[0]["en"]
    said = tenant_page_html(
        tenant_page(seen, None, wording=wording, firm=Firm(name="F", phone=""), revision="b7a1")
    )
    assert "Never open the boiler" in said or "the boiler" in said


@pytest.mark.parametrize(
    ("fuel", "first"),
    [
        ("oil", "look at the gauge on your oil tank."),
        ("lpg", "look at the gauge on your gas tank or bottle."),
        ("gas", "look at your meters."),
    ],
)
def test_an_empty_tank_is_looked_for_before_anything_else(fuel: str, first: str, tmp_path: Path) -> None:
    text = changed("EB-0066", ("fuel: gas", f"fuel: {fuel}"))
    said = page(examine(written(text, tmp_path, "EB-0066"), today=DAY))
    sheet = said[said.rindex("no heat and no hot water") :]
    assert first in sheet
    assert sheet.index(first) < sheet.index("make sure that this switch is on.")
    assert ("is it empty? stop here, and ring us." in sheet) is (fuel != "gas")
    assert ("add credit to your power meter if it has run out." in sheet) is (fuel != "gas")


def test_a_leak_of_lpg_is_for_the_number_on_the_tank_and_never_for_that_of_mains_gas(tmp_path: Path) -> None:
    text = changed("EB-0066", ("fuel: gas", "fuel: lpg"))
    said = page(examine(written(text, tmp_path, "EB-0066"), today=DAY))
    assert "ring the number on your gas tank or bottle." in said
    assert "0800" not in said
