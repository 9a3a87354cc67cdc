"""The hall screen's clock, asked in a real browser with clocks of our own."""

from typing import Any

import pytest
from tests.journeys.conftest import Served

pytestmark = pytest.mark.journey

# Three stretches: 0 to 10 s, 10 to 40 s, 40 to 60 s, in a slot of 60 s. `t` moves both clocks.
_SET_UP = """async () => {
  const { Clock } = await import('/static/web/hall/clock.js');
  const time = { now: 5000, wall: 1_700_000_000_000 };
  const events = [[0, 10000], [10000, 40000], [40000, 60000]]
    .map(([start_ms, end_ms]) => ({ start_ms, end_ms }));
  const make = () => new Clock(
    { events, slotMs: 60000, now: () => time.now, wall: () => time.wall });
  const t = (ms) => { time.now += ms; time.wall += ms; };
  const tick = (clock, ms) => {
    for (let gone = 0; gone < ms; gone += 250) { t(250); clock.check(); }
  };
  const told = (clock) => ({
    state: clock.state, position: clock.position(), index: clock.index(),
    left: clock.leftMs(), end: clock.endMs, over: clock.overrunMs });
  const c = make();
  STEPS
}"""


@pytest.fixture
def ask(page: Any, sample_server: Served) -> Any:
    """Run some steps with a fresh clock `c`, and return what they return."""
    page.goto(f"{sample_server.base}/hall/")
    return lambda steps: page.evaluate(_SET_UP.replace("STEPS", steps))


def test_time_is_a_difference_and_never_a_count_of_ticks(ask: Any) -> None:
    """A tick that comes late, or never, does not slow the clock."""
    told = ask("c.run(); t(12345); return told(c);")

    assert told == {
        "state": "running",
        "position": 12345,
        "index": 1,
        "left": 40000 - 12345,
        "end": 60000,
        "over": 0,
    }


def test_pausing_holds_the_place_and_carrying_on_goes_on_from_there(ask: Any) -> None:
    """Time that passes in a pause does not count."""
    told = ask(
        "c.run(); tick(c, 3000); c.pause(); t(90000); c.run(); tick(c, 2000); return told(c);"
    )

    assert (told["state"], told["position"]) == ("running", 5000)


def test_skip_goes_to_the_next_start_and_past_the_last_it_finishes(ask: Any) -> None:
    """Skipping three stretches while running ends the session."""
    told = ask(
        "c.run(); const a = []; for (const _ of [1,2,3]) { c.skip(); a.push(told(c)); } return a;"
    )

    assert [each["position"] for each in told] == [10000, 40000, 60000]
    assert [each["state"] for each in told] == ["running", "running", "finished"]


def test_back_goes_to_the_start_and_near_the_start_to_the_one_before(ask: Any) -> None:
    """Three seconds into a stretch is the border (common practice of players)."""
    told = ask(
        "c.run(); tick(c, 15000); c.back(); const first = told(c).position;"
        "c.back(); return [first, told(c).position];"
    )

    assert told == [10000, 0]


def test_back_from_the_finish_stays_paused_at_the_last_start(ask: Any) -> None:
    """Skipping too far is undone by one press."""
    told = ask("c.run(); c.skip(); c.skip(); c.skip(); c.back(); return told(c);")

    assert (told["state"], told["position"]) == ("paused", 40000)


def test_extending_moves_what_follows_and_tells_the_overrun(ask: Any) -> None:
    """30 s more in the second stretch: it ends at 70 s, the session at 90 s, 30 s over 60 s."""
    told = ask("c.run(); tick(c, 15000); c.extend(30000); return [told(c), c.events];")

    assert told[0]["left"] == 70000 - 15000
    assert (told[0]["end"], told[0]["over"]) == (90000, 30000)
    assert told[1][2] == {"start_ms": 70000, "end_ms": 90000}


def test_cues_of_an_extended_stretch_are_not_said_twice(ask: Any) -> None:
    """In the added time the planned instant stays at the stretch's planned end."""
    planned = ask("c.run(); c.skip(); c.extend(30000); tick(c, 45000); return c.plannedMs();")

    assert planned == 40000


def test_the_session_finishes_by_itself(ask: Any) -> None:
    """At the end the clock stops at the end."""
    told = ask("c.run(); tick(c, 61000); return told(c);")

    assert (told["state"], told["position"], told["left"]) == ("finished", 60000, 0)


def test_sleep_is_asked_about_and_the_clock_waits_where_it_was(ask: Any) -> None:
    """Both clocks ran on for 20 s without a tick: the place is the last that was seen."""
    told = ask("c.run(); tick(c, 4000); t(20000); c.check(); return [told(c), c.wouldBeMs()];")

    assert (told[0]["state"], told[0]["position"], told[1]) == ("asking", 4000, 24000)


def test_a_disagreement_of_the_clocks_over_two_seconds_is_asked_about(ask: Any) -> None:
    """The time of day ran 2.1 s ahead, as after sleep on a device whose other clock stood still."""
    within = ask("c.run(); tick(c, 4000); time.wall += 1900; c.check(); return c.state;")
    beyond = ask("c.run(); tick(c, 4000); time.wall += 2100; c.check(); return c.state;")

    assert (within, beyond) == ("running", "asking")


def test_slow_drift_of_the_clocks_is_noticed_too(ask: Any) -> None:
    """0.1 s in each second adds up to more than 2 s after 21 s."""
    state = ask(
        "c.run(); for (let i = 0; i < 22; i += 1) {"
        "  time.now += 1000; time.wall += 1100; c.check(); } return c.state;"
    )

    assert state == "asking"


def test_a_page_out_of_view_may_be_looked_at_once_a_minute(ask: Any) -> None:
    """Browsers slow hidden pages; that is not sleep."""
    states = ask(
        "c.run(); t(30000); c.check({ hidden: true }); const slow = c.state;"
        "const d = make(); d.run(); t(30000); d.check(); return [slow, d.state];"
    )

    assert states == ["running", "asking"]


@pytest.mark.parametrize(
    ("choice", "state", "position"),
    [("carry-on", "running", 4000), ("catch-up", "running", 29000), ("stay", "paused", 4000)],
)
def test_each_answer_does_what_it_says(ask: Any, choice: str, state: str, position: int) -> None:
    """Asked at 4 s, answered 25 s later: carry on at 4 s, catch up to 29 s, or stay."""
    told = ask(
        "c.run(); tick(c, 4000); t(20000); c.check(); t(5000);"
        f"c.answer('{choice}'); return told(c);"
    )

    assert (told["state"], told["position"]) == (state, position)


def test_nothing_else_is_done_while_a_question_is_open(ask: Any) -> None:
    """A remote pressed in a pocket cannot lose the place."""
    told = ask(
        "c.run(); tick(c, 4000); t(20000); c.check();"
        "c.skip(); c.back(); c.extend(30000); c.pause(); c.run(); return told(c);"
    )

    assert (told["state"], told["position"], told["end"]) == ("asking", 4000, 60000)


def test_a_quick_reload_carries_on_by_itself(ask: Any) -> None:
    """Kept at 12 s, loaded 1.8 s later: 13.8 s, running."""
    told = ask(
        "c.run(); tick(c, 12000); const kept = c.kept(); time.wall += 1800; time.now = 7;"
        "const d = make(); d.resume(kept); return told(d);"
    )

    assert (told["state"], told["position"]) == ("running", 13800)


def test_a_slow_reload_is_asked_about(ask: Any) -> None:
    """One second of keeping, two of loading and two of grace: at 5.1 s we ask."""
    told = ask(
        "c.run(); tick(c, 12000); const kept = c.kept(); time.wall += 5100; time.now = 7;"
        "const d = make(); d.resume(kept); return [told(d), d.wouldBeMs()];"
    )

    assert (told[0]["state"], told[0]["position"], told[1]) == ("asking", 12000, 17100)


def test_a_reload_keeps_extensions_pauses_and_open_questions(ask: Any) -> None:
    """What the leader did is not undone by a reload."""
    told = ask(
        "c.run(); tick(c, 4000); c.extend(10000); c.pause(); const d = make(); d.resume(c.kept());"
        "t(900000); const e = make(); e.run(); tick(e, 4000); t(20000); e.check();"
        "const f = make(); f.resume(e.kept()); return [told(d), told(f)];"
    )

    assert (told[0]["state"], told[0]["position"], told[0]["end"]) == ("paused", 4000, 70000)
    assert (told[1]["state"], told[1]["position"]) == ("asking", 4000)


@pytest.mark.parametrize(
    "kept",
    [
        "null",
        "'x'",
        "{ position_ms: 'a', state: 'running', wall_ms: 1, added_ms: [0, 0, 0] }",
        "{ position_ms: 1, state: 'odd', wall_ms: 1, added_ms: [0, 0, 0] }",
        "{ position_ms: 1, state: 'paused', wall_ms: 1, added_ms: [0] }",
    ],
)
def test_a_damaged_place_is_set_aside(ask: Any, kept: str) -> None:
    """Whatever was kept badly, the session can begin."""
    told = ask(f"c.resume({kept}); return told(c);")

    assert (told["state"], told["position"]) == ("ready", 0)


def test_the_pace_names_each_part_and_reaches_out_and_back(
    page: Any, sample_server: Served
) -> None:
    """2 s out, 1 s hold, 3 s back: at 1 s half way out, at 2.5 s held, at 4.5 s half way back."""
    page.goto(f"{sample_server.base}/hall/")

    told = page.evaluate(
        """async () => {
          const { at } = await import('/static/web/hall/pace.js');
          const pace = { out_ms: 2000, hold_ms: 1000, back_ms: 3000, pause_ms: 0 };
          return [1000, 2500, 4500, 6000].map((ms) => at(pace, ms))
            .map(({ rep, words, leftS, reach }) => [rep, words, leftS, Number(reach.toFixed(3))]);
        }"""
    )

    assert told == [
        [1, "Out", 1, 0.5],
        [1, "Hold", 1, 1],
        [1, "Back", 2, 0.5],
        [2, "Out", 2, 0],
    ]
