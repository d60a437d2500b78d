"""One round of a circuit, where little is known of what moves its only contact."""

from generator.catalogue.logic import Any, Is, Live, Unsure
from generator.catalogue.parts import Contact, DeviceParts, Driven, Role, Supply, Terminal
from generator.states.network import Bounds, fold
from generator.states.step import Stepper
from tests.circuits import house

EVERYWHERE = 0xFFFF
SOURCE = DeviceParts(
    terminals=tuple(Terminal(name=n, words=n, role=Role.CONTACT, needed=False) for n in "LNEP"),
    supplies=(Supply(name="mains", line="L", neutral="N", earth="E"),),
    contacts=(Contact(name="way", words="way", a="L", b="P", when=Any((Is("moved"), Unsure()))),),
    driven=(Driven(name="moved", words="moved", on_words="on", off_words="off", when=Live("P")),),
)


def stepper(*, unsure: bool) -> Stepper:
    circuit = house(devices={"source": SOURCE})
    return Stepper(circuit, fold(circuit), {}, EVERYWHERE, unsure=unsure)


def after(moved: Bounds, *, unsure: bool = False) -> Bounds:
    return stepper(unsure=unsure).step({"source.moved": moved})["source.moved"]


def test_what_follows_from_the_unknown_is_unknown() -> None:
    assert after(Bounds(0, EVERYWHERE)) == Bounds(0, EVERYWHERE)
    assert after(Bounds(0x000F, 0x00FF)) == Bounds(0x000F, 0x00FF)


def test_what_follows_from_the_known_is_known() -> None:
    for vector in (0, 0x00FF, EVERYWHERE):
        assert after(Bounds(vector, vector)) == Bounds(vector, vector)


def test_what_nobody_knows_is_taken_one_way_in_every_state() -> None:
    assert after(Bounds(0x000F, 0x00FF), unsure=True) == Bounds(EVERYWHERE, EVERYWHERE)
    assert after(Bounds(0, 0), unsure=False) == Bounds(0, 0)


def test_a_contact_that_stayed_as_it_was_is_the_very_vector_of_the_last_time() -> None:
    """By that the search for joins knows that nothing has changed."""
    one = stepper(unsure=True)
    first, second = (one.made({"source.moved": Bounds(0x0F00, 0x0F00 + at)})[0] for at in (0x00F0, 0x00F0))
    assert first is second
    third = one.made({"source.moved": Bounds(0, 0)})[0]
    assert third == Bounds(EVERYWHERE, EVERYWHERE)
