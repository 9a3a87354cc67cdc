import pytest

from halewright.core.people.kit import Material, Shape
from halewright.core.people.person import LatexReaction, Sex, Standing, Weekday
from halewright.files import choices
from halewright.files.quantities import Unread


@pytest.mark.parametrize(
    ("written", "meant"),
    [("F", Sex.FEMALE), ("Woman", Sex.FEMALE), ("m", Sex.MALE), ("Not stated", Sex.NOT_STATED)],
)
def test_sex_is_read_as_the_norms_use_it(written: str, meant: Sex) -> None:
    """Letters and words for sex come to the three values of the norms."""
    assert choices.sex(written) is meant


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("No", LatexReaction.NONE),
        ("rash", LatexReaction.SKIN),
        ("Anaphylaxis", LatexReaction.IMMEDIATE),
        ("not_known", LatexReaction.NOT_KNOWN),
        ("?", LatexReaction.NOT_KNOWN),
    ],
)
def test_latex_reactions_are_told_apart(written: str, meant: LatexReaction) -> None:
    """A reaction of the skin and an immediate one are not the same."""
    assert choices.latex(written) is meant


def test_a_bare_yes_to_latex_is_asked_again() -> None:
    """A yes does not say which kind, and the kind decides what is safe."""
    assert isinstance(choices.latex("yes"), Unread)


def test_a_bare_yes_to_standing_is_asked_again() -> None:
    """A yes does not say with what support."""
    assert isinstance(choices.standing("yes"), Unread)
    assert choices.standing("no") is Standing.SEATED_ONLY
    assert choices.standing("Both hands") is Standing.TWO_HANDS


@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("Fri, Tue", (Weekday.TUESDAY, Weekday.FRIDAY)),
        ("Tuesdays & Fridays", (Weekday.TUESDAY, Weekday.FRIDAY)),
        ("Fridays only", (Weekday.FRIDAY,)),
        ("both", ()),
    ],
)
def test_days_come_in_the_order_of_the_week(written: str, meant: tuple[Weekday, ...]) -> None:
    """Days are read in any order and spelling; “both” means every day."""
    assert choices.weekdays(written) == meant


def test_a_word_that_is_no_day_is_refused() -> None:
    """One strange word makes the whole cell a problem, so that no day is lost."""
    assert isinstance(choices.weekdays("Tuesday, sometimes"), Unread)


def test_materials_and_shapes_have_their_own_words() -> None:
    """Latex-free is never read as latex."""
    assert choices.material("Latex-free") is Material.LATEX_FREE
    assert choices.material("natural rubber") is Material.LATEX
    assert choices.shape("Loop") is Shape.LOOP
    assert isinstance(choices.shape("round"), Unread)


def test_a_list_of_foods_drops_none() -> None:
    """“None” in a list of foods is no food."""
    assert choices.listed("banana; kiwi, avocado") == ("banana", "kiwi", "avocado")
    assert choices.listed("none") == ()


def test_a_decision_is_go_ahead_or_wait() -> None:
    """Anything but a plain answer to an ask-first flag is refused."""
    assert choices.go_ahead("Go-ahead") is True
    assert choices.go_ahead("wait") is False
    assert isinstance(choices.go_ahead("probably"), Unread)
