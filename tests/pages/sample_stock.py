"""An invented stock with all five pages a property, to try the site with before and beside the real pages."""

from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from html import escape
from pathlib import Path

from generator.findings.errors import CannotReadFile
from generator.pages.environment import environment
from generator.pages.stock_index import index_script
from generator.pages.stock_pages import INDEX
from generator.site.config import FirmConfig
from generator.site.page import HOME, SiteAsset, SiteContent, SitePage, made
from generator.views.shown_states import ShownState, StateGroup, grouped
from generator.views.stock_model import StockRow
from tests.pages.sample_drawing import sample_drawing

TABS = (
    ("", "At a glance"),
    ("wiring/", "Wiring"),
    ("calls/", "How it calls for heat"),
    ("readings/", "Readings"),
    ("record/", "Record"),
)

BROKEN = (
    "../nowhere/",
    "../../../cautions/#nowhere",
    "#here-not",
    "https://other.example/",
    "../../../../up/",
)

STATES = (
    ("rest", "Nothing calls", StateGroup.HOUSE),
    ("all", "Everything calls", StateGroup.HOUSE),
    ("hall", "Hall calls", StateGroup.ZONE),
    ("water", "Hot water calls", StateGroup.ZONE),
)

ROWS = (
    ("A", "Hall on", "BN", "Programmer", "On 1"),
    ("B", "Hall call", "BK", "Hall thermostat", "Call"),
    ("C", "Hot water on", "BN", "Programmer", "On 2"),
    ("D", "Hot water call", "BK", "Cylinder thermostat", "Call"),
    ("E", "Boiler call", "OG", "Hall valve", "Switch out"),
    ("F", "Pump", "BN", "Pump", "L"),
    ("G", "Earth", "GNYE", "Hall valve", "E"),
    ("H", "Neutral", "BU", "Hall valve", "N"),
    ("J", "Live", "GY", "Hall valve", "Switch in"),
)

LIVE = {
    "rest": {"J"},
    "hall": {"A", "B", "E", "F", "J"},
    "water": {"C", "D", "E", "F", "J"},
    "all": {"A", "B", "C", "D", "E", "F", "J"},
}


def sample_content(properties: Path, config: FirmConfig) -> SiteContent:
    """Make the sample's pages: one property for each record file in the folder, whatever is in the file."""
    references = sorted(path.stem for path in properties.glob("*.yaml"))
    rows = [StockRow(reference=each, address="14 Alder Row, Marsh End", postcode="") for each in references]
    return SiteContent(
        pages=_pages(references, config),
        assets=(
            SiteAsset(path=INDEX, data=index_script(rows, day=date(2026, 11, 25))),
            SiteAsset(path="assets/drawings.css", data=b"svg.hb-drawing{max-width:100%}"),
        ),
    )


def content_with_broken_links(properties: Path, config: FirmConfig) -> SiteContent:
    """The sample with links on one page that lead nowhere."""
    good = sample_content(properties, config)
    links = "".join(f'<a href="{each}">x</a>' for each in BROKEN)
    pages = (
        replace(page, body=page.body + links) if page.kind == "property-record" else page
        for page in map(made, good.pages)
    )
    return replace(good, pages=pages)


def content_that_fails(properties: Path, config: FirmConfig) -> SiteContent:
    """The sample, breaking off after some pages."""
    good = sample_content(properties, config)

    def pages() -> Iterator[SitePage]:
        for number, page in enumerate(map(made, good.pages)):
            if number == 4:
                raise CannotReadFile("drawing", "it broke off")
            yield page

    return replace(good, pages=pages())


def content_without_home(properties: Path, config: FirmConfig) -> SiteContent:
    """The sample without the page that the hand-written home page waits for."""
    good = sample_content(properties, config)
    return replace(good, pages=(page for page in map(made, good.pages) if page.url != HOME))


def content_with_warning(properties: Path, config: FirmConfig) -> SiteContent:
    return replace(sample_content(properties, config), warnings=("a photo is missing",))


def _pages(references: list[str], config: FirmConfig) -> Iterator[SitePage]:
    rows = "".join(
        f'<tr><th scope="row"><a href="p/{each}/">{each}</a></th><td>14 Alder Row, Marsh End</td></tr>'
        for each in references
    )
    yield SitePage(
        url=HOME,
        title="Properties",
        kind="stock",
        body=f"<h1>The homes that {escape(config.firm.name)} looks after</h1>{_FINDER}{rows}</table>",
        description="All properties.",
        head='<link rel="stylesheet" href="assets/hearthbook-stock.css"><script src="assets/finder.js" defer></script>',
    )
    for reference in references:
        for folder, name in TABS:
            body = _header(folder, reference) + BODIES[name]()
            yield SitePage(
                url=f"p/{reference}/{folder}",
                title=f"{name}: {reference}",
                kind="property-" + (folder.strip("/") or "glance"),
                body=body,
                description=f"{name} at 14 Alder Row & <garden>",
                head=f"<style>{DRAWING[1]}</style>" if name == "Wiring" else "",
                printed_foot=f'{reference} "house", record revision 4f2a91c, last visit 2026-05-12',
            )
    yield SitePage(
        url="rules/crossed-zones/",
        title="Crossed zones",
        kind="rule",
        body='<h1 id="crossed-zones">Crossed zones</h1><p>One thermostat opens the valve of another zone.</p>',
        description="A rule.",
        search=True,
    )


def _header(folder: str, reference: str) -> str:
    up = "../" if folder else ""
    titles = {
        "": "Two-port system, hot water and two heating zones",
        "wiring/": "What lands in each terminal",
        "calls/": "How each zone calls for heat",
        "readings/": "What a meter shows",
        "record/": "What was found, and when",
    }
    links = "".join(
        f'<li><a href="{(up + each) or "./"}"{" aria-current=" + chr(34) + "page" + chr(34) if each == folder else ""}>{name}</a></li>'
        for each, name in TABS
    )
    return (
        '<header class="hb-property">'
        f'<p class="hb-property__place">14 Alder Row, Marsh End <span class="hb-property__ref">{reference}</span></p>'
        f"<h1>{titles[folder]}</h1>"
        '<p class="hb-property__line">Gas boiler with pump overrun; vented cylinder; programmer with two channels.</p>'
        f'<nav class="hb-tabs" aria-label="Pages of this property"><ul>{links}</ul></nav></header>'
    )


def _selector() -> str:
    """The choice of a state as the real pages have it."""
    states = [
        ShownState(id=state, short=name, words=name.lower(), on=(), zones=(), group=group)
        for state, name, group in STATES
    ]
    module = environment().get_template("pages/parts.html.j2").make_module({"root": "", "rules": {}})
    return str(module.selector(grouped(states)))  # type: ignore[attr-defined]  # a macro of the template


def _state_heads() -> str:
    return "".join(f'<th scope="col" data-state-col="{state}">{name}</th>' for state, name, _ in STATES)


def _reading(letter: str, state: str) -> str:
    if letter in LIVE[state]:
        return '<td class="hb-live"><b>230 V</b> live</td>'
    if letter in ("G", "H"):
        return "<td><b>0 V</b> earth</td>"
    if letter == "B" and state == "water":
        return '<td class="hb-odd"><b>110 V</b> through a load</td>'
    return "<td><b>0 V</b> open</td>"


DRAWING = sample_drawing(ROWS, LIVE)


def _glance() -> str:
    return _FIRST


def _wiring() -> str:
    table = "".join(
        f'<tr><th scope="row"><span class="hb-terminal">{letter}</span> <span class="hb-purpose">{name}</span></th>'
        f'<td><div class="hb-lands" data-conductor="{letter}"><span class="hb-core" data-core="{core}">{core}</span> '
        f"to {device} {end}</div></td>{''.join(_reading(letter, state) for state, *_ in STATES)}</tr>"
        for letter, name, core, device, end in ROWS
    )
    return (
        f"{_selector()}"
        '<figure class="hb-figure"><div class="hb-plate" tabindex="0" role="region" aria-label="Terminal drawing">'
        f"{DRAWING[0]}</div><figcaption>The wiring centre in the airing cupboard, while <span data-state-words>nothing calls"
        '</span>. <span class="hb-figure__read">One cell is one terminal; thick conductors are live.</span></figcaption></figure>'
        "<h2>Terminal by terminal</h2>"
        '<div class="hb-scroll" tabindex="0" role="region" aria-label="Terminal by terminal">'
        '<table class="hb-table hb-table--terminals hb-table--states" data-file="terminals"><thead><tr><th scope="col">Terminal</th>'
        f'<th scope="col">What lands there</th>{_state_heads()}</tr></thead><tbody>{table}</tbody></table></div>'
    )


def _calls() -> str:
    return _PATH


def _readings() -> str:
    table = "".join(
        f'<tr><th scope="row"><span class="hb-terminal">{letter}</span></th>'
        + "".join(_reading(letter, state) for state, *_ in STATES)
        + "</tr>"
        for letter, *_ in ROWS
    )
    return (
        '<aside class="hb-caution" aria-label="Caution"><p class="hb-notice__label">Live work</p><ul>'
        "<li>Only a competent person, with probes to GS38. Prefer the dead tests.</li></ul></aside>"
        f'{_selector()}<div class="hb-scroll" tabindex="0" role="region" aria-label="Readings">'
        f'<table class="hb-table hb-table--terminals hb-table--states"><thead><tr><th scope="col">Term.</th>{_state_heads()}'
        f"</tr></thead><tbody>{table}</tbody></table></div>"
    )


def _record() -> str:
    return "<h2>Visits</h2><p>2026-05-12: end switch of the hall valve found dead, head replaced.</p>"


_FINDER = (
    f'<form class="hb-finder" role="search" aria-label="Properties" data-index="{INDEX}" data-root="" hidden>'
    '<label for="hb-find">Find by reference or address</label> <input id="hb-find" type="search" autocomplete="off">'
    '<details class="hb-steps"><summary>Filters</summary><div class="hb-finder__filters"></div></details>'
    '<p class="hb-finder__told"><output for="hb-find"></output> <button type="button" class="hb-finder__clear" hidden>Clear'
    '</button></p><ol class="hb-found" aria-label="Properties found" hidden></ol>'
    '<button type="button" class="hb-finder__more" hidden>Show more</button></form>'
    '<table class="hb-table" id="hb-stock"><thead><tr><th scope="col">Reference</th><th scope="col">Address</th></tr></thead>'
)
_TEXTS = Path(__file__).parent / "sample"
_FIRST = (_TEXTS / "glance.html").read_text(encoding="utf-8")
_PATH = (_TEXTS / "calls.html").read_text(encoding="utf-8")

BODIES = {
    "At a glance": _glance,
    "Wiring": _wiring,
    "How it calls for heat": _calls,
    "Readings": _readings,
    "Record": _record,
}
