/**
 * The session's clock: where we are, and what may be done about it. No page, no timer, no storage.
 *
 * Two clocks are asked, both given: `now()` counts from an unknown start and never jumps
 * (performance.now), `wall()` is the time of day (Date.now). Elapsed time is always a difference
 * of `now`, never a count of ticks, so a late tick does no harm. `wall` is only used to notice
 * sleep, and to find the place again after a reload. All times are milliseconds.
 */

export const READY = "ready";
export const RUNNING = "running";
export const PAUSED = "paused";
export const FINISHED = "finished";
export const ASKING = "asking";

/** The two clocks may differ by this much before we ask (the brief of the hall screen). */
export const MOST_APART_MS = 2000;
/** Saved each second, and an old laptop loads a kept page within two (common practice). */
export const EXPECTED_RELOAD_MS = 3000;
/** A page in view is asked at least this often. */
const EXPECTED_TICK_MS = 1000;
/** Browsers slow the timers of a page out of view to one a minute. */
const EXPECTED_HIDDEN_TICK_MS = 61000;
/** Back within this time of a start goes to the stretch before; later it goes to the start. */
const NEAR_START_MS = 3000;

export const CARRY_ON = "carry-on";
export const CATCH_UP = "catch-up";
export const STAY = "stay";

export class Clock {
  #events;
  #slot;
  #now;
  #wall;
  #state = READY;
  #added;
  #anchor = { position: 0, now: 0, wall: 0 };
  #tick = { now: 0, wall: 0 };
  #laid = null;

  /** @param {{events: {start_ms: number, end_ms: number}[], slotMs: number, now: () => number, wall: () => number}} given */
  constructor({ events, slotMs, now, wall }) {
    this.#events = events;
    this.#slot = slotMs;
    this.#now = now;
    this.#wall = wall;
    this.#added = events.map(() => 0);
    this.#reanchor(0);
  }

  get state() {
    return this.#state;
  }

  /** The events as they now lie in time, extensions included. */
  get events() {
    if (this.#laid === null) {
      let shift = 0;
      this.#laid = this.#events.map((event, index) => {
        const start = event.start_ms + shift;
        shift += this.#added[index];
        return { start_ms: start, end_ms: event.end_ms + shift };
      });
    }
    return this.#laid;
  }

  get endMs() {
    return this.events.at(-1)?.end_ms ?? 0;
  }

  /** How far past the slot the session would now end; 0 when it fits. */
  get overrunMs() {
    return Math.max(0, this.endMs - this.#slot);
  }

  position() {
    const { position, now } = this.#anchor;
    const elapsed = this.#state === RUNNING ? this.#now() - now : 0;
    return Math.min(this.endMs, Math.max(0, position + elapsed));
  }

  /** The number of the stretch that we are in; the last one at the very end. */
  index() {
    const position = this.position();
    const at = this.events.findIndex((event) => position < event.end_ms);
    return at < 0 ? this.events.length - 1 : at;
  }

  /** What is left of this stretch. */
  leftMs() {
    return this.events[this.index()].end_ms - this.position();
  }

  /** How long this stretch has run. */
  intoMs() {
    return this.position() - this.events[this.index()].start_ms;
  }

  /** Where `positionMs` lies in the timeline as it was written, for its cues. */
  plannedMs() {
    const index = this.index();
    const into = Math.min(this.intoMs(), this.#events[index].end_ms - this.#events[index].start_ms);
    return this.#events[index].start_ms + into;
  }

  toggle() {
    if (this.#state === RUNNING) {
      this.pause();
    } else {
      this.run();
    }
  }

  run() {
    if (this.#state === READY || this.#state === PAUSED) {
      this.#reanchor(this.position());
      this.#state = RUNNING;
    }
  }

  pause() {
    if (this.#state === RUNNING) {
      this.#reanchor(this.position());
      this.#state = PAUSED;
    }
  }

  skip() {
    if (this.#state !== ASKING && this.#state !== FINISHED) {
      this.#go(this.events[this.index()].end_ms);
    }
  }

  back() {
    if (this.#state === ASKING) {
      return;
    }
    const index = this.index();
    const before = this.intoMs() < NEAR_START_MS && index > 0 ? index - 1 : index;
    if (this.#state === FINISHED) {
      this.#state = PAUSED;
    }
    this.#go(this.events[before].start_ms);
  }

  /** Make this stretch longer; what follows moves. */
  extend(ms) {
    if (this.#state === ASKING || this.#state === FINISHED) {
      return;
    }
    const index = this.index();
    this.#reanchor(this.position());
    this.#added[index] += ms;
    this.#laid = null;
  }

  /** Begin again from the beginning, without extensions. */
  restart() {
    this.#added = this.#events.map(() => 0);
    this.#laid = null;
    this.#state = READY;
    this.#reanchor(0);
  }

  /**
   * Look at both clocks. Call it often while the page is in view, and when it comes into view.
   * After sleep, or when the clocks disagree, the clock stops where it was last seen and asks.
   */
  check({ hidden = false } = {}) {
    if (this.#state !== RUNNING) {
      this.#seen();
      return;
    }
    const passed = this.#now() - this.#tick.now;
    const wallPassed = this.#wall() - this.#tick.wall;
    const usual = hidden ? EXPECTED_HIDDEN_TICK_MS : EXPECTED_TICK_MS;
    const apart = Math.abs(
      this.#wall() - this.#anchor.wall - (this.#now() - this.#anchor.now),
    );
    if (apart > MOST_APART_MS || Math.max(passed, wallPassed) > usual + MOST_APART_MS) {
      const last = this.#anchor.position + (this.#tick.now - this.#anchor.now);
      this.#ask(last, this.#tick.wall);
      return;
    }
    this.#seen();
    if (this.position() >= this.endMs) {
      this.#reanchor(this.endMs);
      this.#state = FINISHED;
    }
  }

  /** Where we would be had we not stopped; only while asking. */
  wouldBeMs() {
    const away = Math.max(0, this.#wall() - this.#anchor.wall);
    return Math.min(this.endMs, this.#anchor.position + away);
  }

  answer(choice) {
    if (this.#state !== ASKING) {
      return;
    }
    const to = choice === CATCH_UP ? this.wouldBeMs() : this.#anchor.position;
    this.#state = choice === STAY ? PAUSED : RUNNING;
    this.#go(to);
  }

  /** What to keep so that a load finds the place again. */
  kept() {
    const asking = this.#state === ASKING;
    return {
      position_ms: this.position(),
      state: asking ? RUNNING : this.#state,
      wall_ms: asking ? this.#anchor.wall : this.#wall(),
      added_ms: [...this.#added],
    };
  }

  /** Take up what was kept; after a short reload we simply carry on, after a long one we ask. */
  resume(kept) {
    if (!fits(kept, this.#events.length)) {
      return;
    }
    this.#added = [...kept.added_ms];
    this.#laid = null;
    this.#reanchor(Math.min(kept.position_ms, this.endMs));
    this.#state = kept.state;
    if (kept.state !== RUNNING) {
      return;
    }
    const away = this.#wall() - kept.wall_ms;
    if (away < -MOST_APART_MS || away > EXPECTED_RELOAD_MS + MOST_APART_MS) {
      this.#ask(kept.position_ms, kept.wall_ms);
    } else {
      this.#go(kept.position_ms + Math.max(0, away));
    }
  }

  #ask(position, wall) {
    this.#anchor = { position: Math.min(position, this.endMs), now: this.#now(), wall };
    this.#state = ASKING;
  }

  #go(position) {
    const end = this.endMs;
    this.#reanchor(Math.min(position, end));
    if (position >= end && this.#state !== READY) {
      this.#state = FINISHED;
    }
  }

  #reanchor(position) {
    this.#anchor = { position, now: this.#now(), wall: this.#wall() };
    this.#seen();
  }

  #seen() {
    this.#tick = { now: this.#now(), wall: this.#wall() };
  }
}

function fits(kept, count) {
  return (
    kept !== null &&
    typeof kept === "object" &&
    Number.isFinite(kept.position_ms) &&
    Number.isFinite(kept.wall_ms) &&
    [READY, RUNNING, PAUSED, FINISHED].includes(kept.state) &&
    Array.isArray(kept.added_ms) &&
    kept.added_ms.length === count &&
    kept.added_ms.every(Number.isFinite)
  );
}
