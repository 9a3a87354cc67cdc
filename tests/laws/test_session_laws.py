"""Laws of a session in time, over outlines of any shape from the shipped catalogue."""

import itertools
from dataclasses import replace

import pytest
from hypothesis import given, settings
from tests.fakes.outlines import outlines

from halewright.core.catalogue.movement import Movement
from halewright.core.catalogue.words import Pattern, Position, SetUp
from halewright.core.session import build, cues, layout
from halewright.core.session.durations import Durations
from halewright.core.session.outline import Purpose, SessionOutline
from halewright.core.session.timeline import CueKind, EventKind, Timeline
from halewright.files import movements

pytestmark = pytest.mark.laws


def laid_out(outline: SessionOutline) -> Timeline:
    return build.timeline(outline=outline, catalogue=movements.shipped(), durations=Durations())


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_events_tile_the_slot(outline: SessionOutline) -> None:
    """Events run from 0 to the slot's end without gap or overlap."""
    timeline = laid_out(outline)

    assert timeline.events[0].start_ms == 0
    assert timeline.events[-1].end_ms == timeline.slot_ms == outline.slot_ms
    for earlier, later in itertools.pairwise(timeline.events):
        assert earlier.end_ms == later.start_ms
        assert earlier.start_ms <= earlier.end_ms


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_nothing_is_shorter_than_it_needs(outline: SessionOutline) -> None:
    """Sharing out the time left over never shortens a stretch, and keeps work intervals exact."""
    stretches = layout.layout(outline=outline, catalogue=movements.shipped(), durations=Durations())

    for event, stretch in zip(laid_out(outline).events, stretches, strict=True):
        assert event.end_ms - event.start_ms >= stretch.length_ms
        if event.kind is EventKind.WORK or event.title == layout.SWAP:
            assert event.end_ms - event.start_ms == stretch.length_ms


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_every_cue_is_spoken_before_the_next(outline: SessionOutline) -> None:
    """At 110 words a minute each cue ends before the next begins, and within its event."""
    timeline = laid_out(outline)

    for earlier, later in itertools.pairwise(timeline.cues):
        assert earlier.at_ms + cues.spoken_ms(earlier.words) <= later.at_ms
    for cue in timeline.cues:
        assert any(
            event.start_ms <= cue.at_ms and cue.at_ms + cues.spoken_ms(cue.words) <= event.end_ms
            for event in timeline.events
        )


@settings(max_examples=60, deadline=None)
@given(outlines(least_work_s=36))
def test_every_safety_line_is_said_in_time(outline: SessionOutline) -> None:
    """Each main movement's safety line is said before the end of its first work interval.

    The longest that ships takes 22 s; with a start and a last ten seconds it needs 36 s of work.
    """
    timeline = laid_out(outline)
    said_ms = {cue.words: cue.at_ms for cue in reversed(timeline.cues)}
    met = set()

    for event in timeline.events:
        if event.kind is EventKind.WORK and event.movement not in met:
            assert event.movement is not None
            met.add(event.movement)
            safety = movements.shipped()[event.movement].teaching.safety
            assert said_ms[safety] < event.end_ms


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_work_begins_with_go_and_is_counted_down(outline: SessionOutline) -> None:
    """Each work interval says go at its first instant and counts its last four seconds."""
    timeline = laid_out(outline)
    at = {cue.at_ms: cue for cue in timeline.cues}

    for event in timeline.events:
        if event.kind is EventKind.WORK:
            assert at[event.start_ms].kind is CueKind.GO
            for left in (4, 3, 2, 1):
                assert at[event.end_ms - left * 1000].words == str(left)


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_nobody_stands_with_a_band_on_the_legs(outline: SessionOutline) -> None:
    """Where the group's way stands or rises, no band is on legs or feet but in a sit-to-stand."""
    held = {SetUp.ROUND_THIGHS, SetUp.UNDER_FEET, SetUp.ACROSS_THIGHS, SetUp.UNDER_THIGHS}

    for event in laid_out(outline).events:
        if event.movement is None:
            continue
        movement = movements.shipped()[event.movement]
        if movement.standard.position is not Position.SEATED and event.set_up in held:
            assert movement.pattern is Pattern.SIT_TO_STAND


@settings(max_examples=60, deadline=None)
@given(outlines())
def test_rising_to_stand_has_its_time_and_words(outline: SessionOutline) -> None:
    """Between a seated and a standing station there are 20 seconds, and it is said how to rise."""

    def stands(movement: Movement) -> bool:
        return movement.standard.position is Position.SUPPORTED_STANDING

    timeline = laid_out(outline)
    works = [event for event in timeline.events if event.kind is EventKind.WORK]
    catalogue = movements.shipped()

    for earlier, later in itertools.pairwise(works):
        assert earlier.movement is not None
        assert later.movement is not None
        if stands(catalogue[later.movement]) and not stands(catalogue[earlier.movement]):
            assert later.start_ms - earlier.end_ms >= 20_000
            said = [
                cue.words for cue in timeline.cues if earlier.end_ms <= cue.at_ms < later.start_ms
            ]
            assert cues.STAND_UP in said


@settings(max_examples=30, deadline=None)
@given(outlines())
def test_a_slot_just_long_enough_is_enough(outline: SessionOutline) -> None:
    """The least time that a session says it needs is a slot in which it fits."""
    needed_ms = layout.session_ms(
        outline=outline, catalogue=movements.shipped(), durations=Durations()
    )
    exact = Durations()
    whole = build.timeline(
        outline=with_slot(outline, needed_ms), catalogue=movements.shipped(), durations=exact
    )

    assert whole.events[-1].end_ms == needed_ms
    with pytest.raises(build.SlotTooShort):
        build.timeline(
            outline=with_slot(outline, needed_ms - 1),
            catalogue=movements.shipped(),
            durations=exact,
        )


def with_slot(outline: SessionOutline, slot_ms: int) -> SessionOutline:
    return replace(outline, slot_ms=slot_ms)


@settings(max_examples=30, deadline=None)
@given(outlines())
def test_cues_name_no_pull_while_bands_are_new(outline: SessionOutline) -> None:
    """In a handling session every work interval opens with hold and anchor, and no pull."""
    timeline = laid_out(outline)
    words = {cue.words for cue in timeline.cues if cue.kind is CueKind.GO}

    told = any("No pull today" in each for each in words)
    assert told is (outline.purpose is Purpose.HANDLING and bool(outline.main))
