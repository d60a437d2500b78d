"""Invented drawings of any size for the tests: two-port zones, one or two banks of terminals, and odd wiring."""

import random
from dataclasses import dataclass, field, replace

from generator.drawings.terminal_model import (
    Box,
    Cell,
    Core,
    End,
    Link,
    Pin,
    Role,
    Strip,
    TerminalDrawing,
)

ZONES = (
    "Hall",
    "Bedrooms",
    "Garden room",
    "Lounge",
    "Study",
    "Kitchen",
    "Attic",
    "Annexe",
    "Cellar",
    "Workshop",
    "Landing",
    "Gallery",
    "Larder",
    "Dairy",
    "Snug",
)
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
CHANNEL_COLOURS = (
    "BK",
    "GY",
    "WH",
    "OG",
    "RD",
    "VT",
    "YE",
    "PK",
    "TQ",
    "BNWH",
    "BKWH",
    "BUWH",
    "GYPK",
    "RDWH",
    "OGWH",
    "VTWH",
)


@dataclass
class House:
    """Collects the parts of one drawing while it is being wired."""

    bank: str = "centre"
    cells: dict[str, list[tuple[str, tuple[str, ...]]]] = field(default_factory=dict)
    boxes: list[Box] = field(default_factory=list)
    cores: list[Core] = field(default_factory=list)

    def terminal(self, name: str, live_in: tuple[str, ...] = (), strip: str = "centre") -> End:
        cells = self.cells.setdefault(strip, [])
        if name not in (known for known, _ in cells):
            cells.append((name, live_in))
        return strip, name

    def device(self, box: Box, *wires: tuple[str, str, End, tuple[str, ...]]) -> None:
        self.boxes.append(box)
        for pin, code, to, live_in in wires:
            self.core((box.id, pin), code, to, live_in)

    def core(
        self, start: End, code: str, to: End | None, live_in: tuple[str, ...] = (), **more: object
    ) -> None:
        where = f"{to[0]}.{to[1]}" if to else "nothing"
        core = Core(
            id=f"{start[0]}.{start[1]}.{where}.{len(self.cores)}",
            code=code,
            from_pin=start,
            to=to,
            cable=start[0],
            title=f"{code} core from {start[0]} {start[1]} to {where}",
            live_in=live_in,
        )
        self.cores.append(replace(core, **more))  # type: ignore[arg-type]


def pins(*names: str, **live: tuple[str, ...]) -> tuple[Pin, ...]:
    return tuple(Pin(id=name, label=name, live_in=live.get(name.replace(" ", "_"), ())) for name in names)


def build_house(
    zones: int = 4, *, banks: int = 1, prefix: str = "house", places: bool = True
) -> TerminalDrawing:
    """Return a house with `zones` two-port zones, the last one the hot water; with two banks the second is L, N, E."""
    names = [*ZONES[: zones - 1], "Hot water"]
    states = tuple(f"zone-{number}" for number in range(1, zones + 1))
    every = ("idle", *states)
    house = House()
    common = "common" if banks > 1 else "centre"
    for number, name in enumerate(names):
        house.terminal(f"{name} on", (states[number],))
        house.terminal(f"{name} call", (states[number],))
    call, pump = house.terminal("Boiler call", states), house.terminal("Pump", states)
    earth, neutral = house.terminal("Earth", (), common), house.terminal("Neutral", (), common)
    live = house.terminal("Live", every, common)
    channels = [f"On {number}" for number in range(1, zones + 1)]
    house.device(
        Box(
            id="programmer",
            name="Programmer",
            pins=pins("L", "N", *channels),
            place="Kitchen" if places else "",
        ),
        ("L", "BN", live, every),
        ("N", "BU", neutral, ()),
        *(
            (channel, CHANNEL_COLOURS[number], house.terminal(f"{name} on"), (states[number],))
            for number, (channel, name) in enumerate(zip(channels, names, strict=True))
        ),
    )
    for number, name in enumerate(names):
        on, called = house.terminal(f"{name} on"), house.terminal(f"{name} call")
        slug, live_in = name.lower().replace(" ", "-"), (states[number],)
        stat = ("N", "L", "Call") if name != "Hot water" else ("Com", "Call")
        house.device(
            Box(
                id=f"{slug}-stat",
                name=f"{name} {'stat' if name != 'Hot water' else 'cyl. stat'}",
                pins=pins(*stat),
                group=slug,
                place=name if places else "",
            ),
            *((("N", "BU", neutral, ()),) if "N" in stat else ()),
            (stat[-2], "BN", on, live_in),
            ("Call", "BK", called, live_in),
        )
        house.device(
            Box(
                id=f"{slug}-valve",
                name=f"{name} valve",
                pins=pins("Sw in", "N", "E", "Motor", "Sw out"),
                group=slug,
                role=Role.VALVE,
                place="Airing cupboard" if places else "",
            ),
            ("Sw in", "GY", live, every),
            ("N", "BU", neutral, ()),
            ("E", "GNYE", earth, ()),
            ("Motor", "BN", called, live_in),
            ("Sw out", "OG", call, live_in),
        )
    plant = Role.PLANT
    house.device(
        Box(id="boiler", name="Boiler", pins=pins("Perm L", "N", "E", "Sw L", "Pump L"), role=plant),
        ("Perm L", "BN", live, every),
        ("N", "BU", neutral, ()),
        ("E", "GNYE", earth, ()),
        ("Sw L", "BK", call, states),
        ("Pump L", "GY", pump, states),
    )
    house.device(
        Box(id="pump", name="Pump", pins=pins("N", "E", "L"), role=plant),
        ("N", "BU", neutral, ()),
        ("E", "GNYE", earth, ()),
        ("L", "BN", pump, states),
    )
    house.device(
        Box(id="spur", name="Fused spur 3 A", pins=pins("L", "N", "E"), role=Role.SUPPLY),
        ("L", "BN", live, every),
        ("N", "BU", neutral, ()),
        ("E", "GNYE", earth, ()),
    )
    if banks > 1:
        house.core(house.terminal("Live in", every), "BN", live, every)
        house.core(house.terminal("Earth bar"), "GNYE", earth)
    return finish(house, prefix, every)


def finish(house: House, prefix: str, states: tuple[str, ...]) -> TerminalDrawing:
    """Letter the terminals in their order and give back the drawing."""
    letters = iter([*LETTERS, *(f"{one}{two}" for one in LETTERS for two in LETTERS)])
    marks = dict(zip(house.cells, ("X1", "X2", "X3"), strict=False)) if len(house.cells) > 1 else {}
    strips = tuple(
        Strip(
            id=strip,
            name={"centre": "Wiring centre", "common": "Supply terminals"}.get(strip, strip),
            place="Airing cupboard",
            mark=marks.get(strip, ""),
            cells=tuple(
                Cell(id=name, label=next(letters), words=name, live_in=live_in) for name, live_in in cells
            ),
        )
        for strip, cells in house.cells.items()
    )
    return TerminalDrawing(
        prefix=prefix,
        title="Marsh End House: terminal wiring",
        description="Every core from its device to its terminal.",
        strips=strips,
        devices=tuple(house.boxes),
        cores=tuple(house.cores),
        states=states,
    )


def add_oddities(drawing: TerminalDrawing, seed: int, count: int = 6) -> TerminalDrawing:
    """Add links, direct cores, spare cores, sleeving, doubled terminals and empty ones, by a seeded choice."""
    choice = random.Random(seed)  # noqa: S311 - a repeatable choice of test wiring
    ends = [(box.id, pin.id) for box in drawing.devices for pin in box.pins]
    cells = [(strip.id, cell.id) for strip in drawing.strips for cell in strip.cells]
    extra = []
    for number in range(count):
        kind = choice.choice(("direct", "spare", "doubled", "bridge", "spare cell"))
        start = choice.choice(ends if kind in {"direct", "spare", "doubled"} else cells)
        others = {"direct": ends, "doubled": cells, "bridge": cells}.get(kind)
        to = choice.choice([end for end in others if end != start]) if others else None
        extra.append(
            Core(
                id=f"extra-{number}",
                code=choice.choice((*CHANNEL_COLOURS, "", "GNYE", "BU")),
                from_pin=start,
                to=to,
                assumed=choice.random() < 0.4,
                sleeve=choice.choice((None, None, "BN", "GNYE")),
                title=f"Extra core {number}",
                live_in=tuple(choice.sample(drawing.states, 1)),
            )
        )
    strips = []
    for strip in drawing.strips:
        empty = Cell(id="empty", label="Z9")
        place = choice.randrange(len(strip.cells))
        all_cells = (*strip.cells[:place], empty, *strip.cells[place:])
        links = tuple(
            Link(id=f"link-{number}", cells=tuple(cell.id for cell in choice.sample(all_cells, size)))
            for number, size in enumerate((2, 2, 3)[: choice.randrange(4)])
            if size <= len(all_cells)
        )
        strips.append(replace(strip, cells=all_cells, links=links))
    boxes = tuple(replace(box, ordered=choice.random() < 0.7) for box in drawing.devices)
    return replace(drawing, strips=tuple(strips), devices=boxes, cores=(*drawing.cores, *extra))
