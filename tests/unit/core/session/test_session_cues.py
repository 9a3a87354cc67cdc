from collections.abc import Sequence
from dataclasses import replace

from tests.fakes.outlines import outline

from halewright.core.session import build, cues, layout
from halewright.core.session.durations import Durations, Handling
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.core.session.timeline import Cue, CueKind, EventKind, Timeline
from halewright.files import movements

ROW, LEG_BACK = "seated-row", "standing-leg-back"
KNEES, LOOP = "knee-straighten", "knees-apart-loop"
QUICK = Durations(
    explain_ms=0, handling={each: Handling(off_ms=0, on_ms=0) for each in Durations().handling}
)
"""Nothing to explain and nothing to handle: the gap is the rest alone."""


def laid_out(session: SessionOutline, durations: Durations | None = None) -> Timeline:
    return build.timeline(
        outline=session, catalogue=movements.shipped(), durations=durations or Durations()
    )


def before_work(timeline: Timeline, *, number: int) -> Sequence[Cue]:
    """Return the cues in the gap before the work interval of this number, from 0."""
    works = [event for event in timeline.events if event.kind is EventKind.WORK]
    begun_ms = works[number - 1].end_ms if number else 0
    return [cue for cue in timeline.cues if begun_ms <= cue.at_ms < works[number].start_ms]


def test_eleven_words_take_six_seconds() -> None:
    """At 110 words a minute: 11 × 60 / 110 = 6 s."""
    assert cues.spoken_ms("one two three four five six seven eight nine ten eleven") == 6_000


def test_a_movement_is_told_as_name_set_up_and_safety() -> None:
    """With time enough: name and start, how the band goes, then the safety line."""
    timeline = laid_out(outline(main=(KNEES, ROW)))
    teaching = movements.shipped()[outline(main=(ROW,)).main[0].movement].teaching

    assert [(cue.kind, cue.words) for cue in before_work(timeline, number=2)] == [
        (CueKind.GET_READY, f"Next: Seated row. {teaching.start}"),
        (CueKind.SET_UP, teaching.set_up),
        (CueKind.SAFETY, teaching.safety),
    ]


def tight(session: SessionOutline) -> SessionOutline:
    """Return the session in a slot that leaves no time over."""
    needed_ms = layout.session_ms(outline=session, catalogue=movements.shipped(), durations=QUICK)
    return replace(session, slot_ms=needed_ms)


def test_a_short_gap_keeps_the_name_and_drops_the_start() -> None:
    """In a gap of 4 s the name is said, and where to sit is left out."""
    session = tight(outline(main=(KNEES, ROW), rest_ms=4_000))

    (said,) = before_work(laid_out(session, QUICK), number=2)

    assert said.words == "Next: Seated row."


def test_a_safety_line_without_room_is_said_at_the_start_of_the_work() -> None:
    """Where a gap of 4 s has no time for the safety line, the first work interval begins with it,
    and it is not said again there in a later round.
    """
    session = tight(outline(main=(KNEES, ROW), rest_ms=4_000, rounds=2))
    timeline = laid_out(session, QUICK)
    works = [event for event in timeline.events if event.kind is EventKind.WORK]
    safety = movements.shipped()[session.main[1].movement].teaching.safety

    (at_ms,) = [cue.at_ms for cue in timeline.cues if cue.words == safety]

    assert works[2].start_ms < at_ms < works[2].start_ms + 5_000


def test_rising_is_said_before_how_the_movement_goes() -> None:
    """From a loop to standing: the name, bands off and rise, then the safety line."""
    timeline = laid_out(outline(main=(LOOP, LEG_BACK)))
    said = before_work(timeline, number=1)

    assert said[0].words.startswith("Next: Standing leg back.")
    assert said[1].words == cues.STAND_UP
    assert said[1].kind is CueKind.SAFETY


def test_sitting_down_again_is_said() -> None:
    """From standing to a seated station it is said to feel for the chair."""
    timeline = laid_out(outline(main=(LEG_BACK, KNEES)))

    assert cues.SIT_DOWN in [cue.words for cue in before_work(timeline, number=2)]


def test_sitting_down_for_the_last_water_is_said() -> None:
    """A main part that ends on its feet ends with sitting down."""
    timeline = laid_out(outline(main=(LEG_BACK,)))
    (water,) = [cue for cue in timeline.cues if cue.kind is CueKind.WATER]

    assert water.words.startswith(cues.SIT_DOWN)


def test_bands_are_looked_along_before_use() -> None:
    """A session with bands says how to check them, whichever station comes first; one without
    does not.
    """
    first, later, without = (
        laid_out(outline(main=main)) for main in ((ROW, KNEES), (KNEES, ROW), (KNEES,))
    )

    assert cues.BAND_CARE in [cue.words for cue in first.cues]
    assert cues.BAND_CARE in [cue.words for cue in later.cues]
    assert cues.BAND_CARE not in [cue.words for cue in without.cues]


def test_the_first_movement_is_announced_without_bands_too() -> None:
    """A session without bands names its first movement before the work begins."""
    timeline = laid_out(outline(main=(KNEES,)))

    assert any(cue.words.startswith("Next: Knee") for cue in before_work(timeline, number=0))


def test_stop_signs_are_told_at_the_start() -> None:
    """The stop signs are told in the welcome of every session."""
    for purpose in Purpose:
        timeline = laid_out(outline(main=(KNEES,), purpose=purpose))
        (told,) = [cue for cue in timeline.cues if cue.kind is CueKind.STOP_SIGNS]
        assert told.at_ms < timeline.events[0].end_ms


def test_nobody_leaves_without_the_rise_check() -> None:
    """The session ends with the rise check, then the close."""
    timeline = laid_out(outline())

    assert [cue.kind for cue in timeline.cues[-2:]] == [CueKind.RISE_CHECK, CueKind.CLOSE]
