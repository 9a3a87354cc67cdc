/** Puts the hall screen together: document, clock, place, screen, keys, worker. */

import { ASKING, CARRY_ON, CATCH_UP, Clock, FINISHED, READY, RUNNING, STAY } from "./clock.js";
import { listen } from "./keys.js";
import { keepOnDevice } from "./offline.js";
import { Screen } from "./screen.js";
import { Place, fingerprint } from "./store.js";

const TICK_MS = 250;
const EXTEND_MS = 30000;
const EXTEND_LITTLE_MS = 10000;

async function begin() {
  const text = await (await fetch("/hall/document.json")).text();
  const session = JSON.parse(text);
  const place = new Place(fingerprint(text));
  const screen = new Screen({ root: document, session });
  const clock = new Clock({
    events: session.events,
    slotMs: session.slot_ms,
    now: () => performance.now(),
    wall: () => Date.now(),
  });
  await place.open();
  clock.resume(await place.last());
  play({ clock, place, screen });
  await keepOnDevice({ screen, idle: () => [READY, FINISHED].includes(clock.state) });
}

function play({ clock, place, screen }) {
  const device = new Awake();
  let wasHidden = document.hidden;
  let keptAt = 0;
  let keptState = "";

  function keep() {
    place.keep(clock.kept());
    keptAt = performance.now();
    keptState = clock.state;
    screen.memory(place.memoryOnly);
  }

  function look() {
    clock.check({ hidden: wasHidden });
    wasHidden = document.hidden;
    const changed = clock.state !== keptState;
    if (changed || (clock.state === RUNNING && performance.now() - keptAt >= 1000)) {
      keep();
    }
    if (changed) {
      device.stayAwake(clock.state === RUNNING);
    }
    screen.show(clock);
  }

  function does(act) {
    return () => {
      clock.check({ hidden: wasHidden });
      if (clock.state !== ASKING) {
        act();
        keep();
      }
      look();
    };
  }

  const commands = {
    toggle: does(() => clock.toggle()),
    skip: does(() => clock.skip()),
    back: does(() => clock.back()),
    extend: does(() => clock.extend(EXTEND_MS)),
    extendLittle: does(() => clock.extend(EXTEND_LITTLE_MS)),
    restart: does(() => clock.restart()),
    hold: does(() => {
      clock.pause();
      screen.hold();
    }),
    carryOn: does(() => {
      screen.release();
      clock.run();
    }),
    stayHeld: does(() => screen.release()),
    stopSigns: () => screen.stopSigns(),
    fullScreen: () => screen.fullScreen(),
    theme: () => screen.changeTheme(),
  };
  for (const choice of [CARRY_ON, CATCH_UP, STAY]) {
    commands[choice] = () => {
      clock.answer(choice);
      keep();
      look();
    };
  }
  screen.wire(commands);
  listen({ target: document, commands });
  document.addEventListener("visibilitychange", () => {
    look();
    device.stayAwake(clock.state === RUNNING);
  });
  // A page that is put away keeps its place to the millisecond.
  addEventListener("pagehide", () => {
    clock.check({ hidden: wasHidden });
    place.keep(clock.kept());
  });
  setInterval(look, TICK_MS);
  const draw = () => {
    look();
    requestAnimationFrame(draw);
  };
  look();
  screen.open();
  requestAnimationFrame(draw);
}

/** Keeps the device from going dark while the session runs, where the browser can. */
class Awake {
  #lock = null;
  #wanted = false;

  async stayAwake(wanted) {
    this.#wanted = wanted;
    if (!wanted) {
      await this.#lock?.release();
      this.#lock = null;
      return;
    }
    if (!("wakeLock" in navigator) || document.hidden || (this.#lock && !this.#lock.released)) {
      return;
    }
    try {
      this.#lock = await navigator.wakeLock.request("screen");
      if (!this.#wanted) {
        await this.stayAwake(false);
      }
    } catch {
      this.#lock = null; // a low battery may refuse it; the clock does not depend on it
    }
  }
}

begin().catch((problem) => {
  document.body.dataset.loaded = "no";
  document.getElementById("trouble-words").textContent =
    `The session could not be loaded (${problem.message ?? problem}).`;
});
