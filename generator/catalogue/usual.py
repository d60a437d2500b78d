"""Terminals that many kinds of device have alike, and the contact in series that safety devices share.

Knows no particular kind.
"""

from generator.catalogue.logic import Is, Not
from generator.catalogue.parts import Contact, DeviceParts, Fact, Input, InputKind, Role, Sense, Terminal

LINE = Terminal(name="L", words="line in", role=Role.PERMANENT_LINE, usual_core="BN")
SWITCHED_LINE = Terminal(name="L", words="line", role=Role.SWITCHED_LINE, usual_core="BN")
NEUTRAL = Terminal(name="N", words="neutral", role=Role.NEUTRAL, usual_core="BU")
EARTH = Terminal(name="E", words="earth", role=Role.EARTH, usual_core="GNYE")

SENSED_V = 24.0
SENSED_OHM = 10_000.0
"""What a volt-free demand input puts on its own terminals: from memory."""
BUS_V = 24.0
BUS_OHM = 1_000.0
"""What a two-wire bus puts on its own terminals: from memory."""


def pair(name: str, words: str, *, needed: bool = True) -> tuple[Terminal, Terminal]:
    """The two extra-low-voltage terminals ``NAME-a`` and ``NAME-b``."""
    return (
        Terminal(name=f"{name}-a", words=words, role=Role.EXTRA_LOW, needed=needed),
        Terminal(name=f"{name}-b", words=words, role=Role.EXTRA_LOW, needed=needed),
    )


def felt(name: str) -> Sense:
    """The source by which a device feels whether the terminals ``NAME-a`` and ``NAME-b`` are joined."""
    return Sense(name=name, a=f"{name}-a", b=f"{name}-b", volts=SENSED_V, ohm=SENSED_OHM)


def in_series(
    moved: Input, contact_words: str, rated_a: float | None, facts: tuple[Fact, ...]
) -> DeviceParts:
    """A contact between ``in`` and ``out`` that an input breaks, and nothing else."""
    return DeviceParts(
        terminals=(
            Terminal(name="in", words="in", role=Role.CONTACT),
            Terminal(name="out", words="out", role=Role.OUTPUT),
        ),
        inputs=(moved,),
        contacts=(
            Contact(
                name="contact",
                words=contact_words,
                a="in",
                b="out",
                when=Not(Is(moved.name)),
                rated_a=rated_a,
            ),
        ),
        facts=facts,
        protection=2,
    )


def trip(name: str, words: str, on_words: str, off_words: str) -> Input:
    """An input that is off in a sound house and cuts something when on."""
    return Input(
        name=name, words=words, on_words=on_words, off_words=off_words, kind=InputKind.TRIP, normal=False
    )
