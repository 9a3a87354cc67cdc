from dataclasses import replace

import pytest
from tests.fakes.loads import LOAD

from halewright.core.mechanics.loads import Code
from halewright.web import load_words


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "10 to 20 N (15–25)"),
        ({"tension_start_n": 4.0}, "light to 20 N (15–25)"),
        ({"tension_start_n": 0.0, "codes": (Code.SLACK_AT_START,)}, "slack to 20 N (15–25)"),
        (
            {"tension_peak_n": 7.0, "tension_interval_n": (3.0, 10.4), "codes": (Code.LIGHT,)},
            "light (0–15)",
        ),
        ({"tension_peak_n": None, "tension_interval_n": None}, "not known"),
        ({"tension_peak_n": 0.0, "tension_interval_n": (0.0, 0.0)}, "slack throughout"),
    ],
)
def test_tension_is_told_in_steps_of_five_with_its_range(
    changes: dict[str, object], words: str
) -> None:
    """21 N is 20; 17.2 to 24.9 reaches outwards to 15 to 25; below 10 N it is light."""
    assert load_words.tension(replace(LOAD, **changes)) == words  # type: ignore[arg-type]


def test_a_grip_is_told_in_whole_centimetres_with_its_ends() -> None:
    """62.4 cm is 62 cm; a doubled band, one hand and a loop are said."""
    assert load_words.grip(LOAD, doubled=False) == "62 cm"
    assert load_words.grip(replace(LOAD, hands=1), doubled=True) == (
        "folded double, 62 cm from anchor to hand"
    )
    assert load_words.grip(replace(LOAD, closed=True), doubled=False) == "the loop as it is"


def test_a_joint_that_turns_round_is_told_both_ways() -> None:
    """+10 Nm at the start, -7 Nm at the far end: one line would name the wrong direction."""
    told = load_words.joints(LOAD)

    assert told == (
        ("Shoulder", "lifting the arm forward", "10 Nm", "at the start", "1 Nm the other way"),
        ("Shoulder", "drawing the arm back", "7 Nm", "at the far end", "9 Nm"),
    )


def test_codes_are_words_and_what_the_number_says_is_not_said_twice() -> None:
    """Light and slack stand beside the number already."""
    told = load_words.codes((Code.LIGHT, Code.SLACK_AT_START, Code.BEYOND_MEASURED))

    assert told == ("stretched beyond the last reading: its pull there is not known",)
