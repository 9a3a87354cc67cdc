/** Draws the clock on the page. Asks the clock, never tells it. */

import { ASKING, FINISHED, READY, RUNNING } from "./clock.js";
import { Figure } from "./figures.js";
import { at, parts } from "./pace.js";

/** Beyond this many letters a name would take two lines and push the pacer down. */
const LONG_NAME_COUNT = 20;
/** What comes next is shown from this long before the end (common practice). */
const SOON_MS = 10000;
/** A caption stays this long, or until the next one (two lines read at ease; common practice). */
const CAPTION_MS = 7000;
/** Letters that fit on one line of the caption on a wide screen. */
const LINE_COUNT = 80;
const THEME_KEY = "halewright.hall.theme";
const STATES = { ready: "Ready", paused: "Paused", finished: "Finished", asking: "Paused" };

export class Screen {
  #root;
  #session;
  #figure;
  #nextFigure;
  #shown = new Map();
  #pacerOf = null;
  #laid = null;
  #still = matchMedia("(prefers-reduced-motion: reduce)");

  constructor({ root, session }) {
    this.#root = root;
    this.#session = session;
    this.#figure = new Figure({ box: this.#at("figure"), figures: session.figures });
    this.#nextFigure = new Figure({ box: this.#at("next-figure"), figures: session.figures });
    this.#text("title", session.title);
    this.#theme(this.#lastTheme());
  }

  /** Show the session in place of the words that it is being loaded. */
  open() {
    this.#root.body.dataset.loaded = "yes";
  }

  /** Tie every button with `data-command` to what it does. */
  wire(commands) {
    for (const button of this.#root.querySelectorAll("[data-command]")) {
      button.addEventListener("click", () => commands[button.dataset.command]());
    }
    // Escape must not close a question unanswered: it stays paused, the safe answer.
    this.#at("asking").addEventListener("cancel", (event) => {
      event.preventDefault();
      commands.stay();
    });
  }

  show(clock) {
    const index = clock.index();
    const event = this.#session.events[index];
    const next = this.#session.events.slice(index + 1).find((later) => later.movement !== null);
    const swap = event.next_first && next !== undefined;
    const view = { clock, index, event, next, main: swap ? next : event, swap };
    this.#whole(view);
    this.#now(view);
    this.#pacer(view);
    this.#ways(view);
    this.#next(view);
    this.#caption(view);
    this.#progress(view);
    this.#question(clock);
  }

  #whole({ clock, event, swap }) {
    const body = this.#root.body;
    this.#mark(body, "state", clock.state);
    this.#mark(body, "kind", event.kind);
    this.#mark(body, "swap", swap ? "yes" : "no");
    this.#text("toggle-words", { running: "Pause", ready: "Start" }[clock.state] ?? "Carry on");
    this.#at("toggle").hidden = clock.state === FINISHED;
    this.#at("restart").hidden = clock.state !== FINISHED;
    this.#text("state", STATES[clock.state] ?? "");
    const over = Math.ceil(clock.overrunMs / 1000);
    this.#text("over", over > 0 ? `Ends ${minutes(over)} after the slot` : "");
  }

  #now({ clock, event, next, main, swap }) {
    const left = clock.state === FINISHED ? 0 : Math.ceil(clock.leftMs() / 1000);
    this.#text("time", minutes(left));
    this.#mark(this.#at("time"), "wide", left >= 600 ? "yes" : "no");
    this.#text("what", swap ? `${event.title} – next` : "");
    const name = clock.state === FINISHED ? "Well done" : main.title;
    this.#text("name", name);
    this.#mark(this.#at("name"), "long", name.length > LONG_NAME_COUNT ? "yes" : "no");
    this.#text("side", swap || main.movement !== null ? main.side_words : "");
    const placed = main.movement !== null ? main : event;
    this.#text("place", placeWords(placed));
    const moves = swap && main.set_up !== null && event.set_up_changes;
    this.#band({ id: "", moves, of: main.movement === null ? null : main });
    this.#text("set-up-how", swap && event.set_up_changes ? main.set_up_how : "");
    // A stretch without a movement of its own (welcome, water) shows the one that comes.
    const pictured = main.movement === null ? (next ?? main) : main;
    const movement = clock.state === FINISHED ? null : pictured.movement;
    this.#figure.show(movement);
    if (event.pace === null) {
      this.#figure.reach({ share: 1, side: pictured.side });
    }
    this.#mark(this.#root.body, "pictured", this.#figure.empty ? "no" : "yes");
  }

  #pacer({ clock, event, index }) {
    const paced = event.pace !== null && clock.state !== FINISHED;
    this.#at("pacer").hidden = !paced;
    this.#root.body.toggleAttribute("data-paced", paced);
    if (!paced) {
      this.#pacerOf = null;
      return;
    }
    if (this.#pacerOf !== index) {
      this.#pacerOf = index;
      this.#at("pacer-parts").replaceChildren(...parts(event.pace).map(bar));
    }
    const now = at(event.pace, clock.intoMs());
    this.#text("pacer-words", clock.state === RUNNING ? now.words : STATES[clock.state]);
    this.#text("pacer-count", clock.state === RUNNING ? String(now.leftS) : "");
    this.#text("rep", `Rep ${now.rep}`);
    [...this.#at("pacer-parts").children].forEach((part, number) => {
      const share = number < now.index ? 1 : number > now.index ? 0 : now.share;
      part.classList.toggle("on", number === now.index);
      const shown = this.#still.matches ? Number(number <= now.index) : share;
      part.firstChild.style.transform = `scaleX(${shown.toFixed(3)})`;
    });
    // Where the sides take turns, so does the figure: right, left, right …
    const turn = event.side === "alternate" && now.rep % 2 === 0 ? "left" : event.side;
    const still = this.#still.matches || clock.state !== RUNNING;
    this.#figure.reach({ share: still ? 1 : now.reach, side: turn });
  }

  #ways({ main, clock, swap }) {
    // While the band is moved, the picture and the safety words have the room to themselves.
    const none = clock.state === FINISHED || main.movement === null || swap;
    this.#words("gentler", none ? "" : main.gentler);
    this.#words("stronger", none ? "" : main.stronger);
    this.#list("points", none ? [] : [...main.points, main.breath].filter(Boolean));
    this.#words("safety", swap && clock.state !== FINISHED ? main.safety : "");
  }

  #next({ clock, event, next, swap, index }) {
    const last = this.#session.events[index + 1];
    const soon = clock.leftMs() <= SOON_MS || event.movement === null;
    const none = swap || last === undefined || clock.state === FINISHED;
    this.#at("next").hidden = none;
    this.#mark(this.#at("next"), "soon", soon ? "yes" : "no");
    if (none) {
      return;
    }
    const rest = last.movement === null && !last.next_first;
    const coming = rest || next === undefined ? last : next;
    this.#text("next-name", coming.title);
    this.#text("next-side", coming.side_words);
    const other = coming.set_up !== null && coming.set_up !== (event.set_up ?? "none");
    const moves = event.movement === null && event.set_up_changes ? true : other;
    this.#band({ id: "next-", moves, of: coming.movement === null ? null : coming });
    const already = event.movement === null; // the large picture shows it
    const movement = already ? null : coming.movement;
    this.#nextFigure.show(movement);
    this.#nextFigure.reach({ share: 1, side: coming.side });
  }

  /** Say where the band is, and whether it has to move; no band is only named when it goes. */
  #band({ id, moves, of }) {
    const down = of !== null && of.set_up === "none";
    this.#text(`${id}move-band`, down ? "Put the band down" : "Move the band");
    this.#at(`${id}move-band`).hidden = !(moves && of !== null);
    this.#text(`${id}set-up`, of === null || down ? "" : of.set_up_words);
  }

  #caption({ clock, event, main, swap }) {
    const planned = clock.plannedMs();
    const said = this.#session.cues.findLast((cue) => cue.at_ms <= planned);
    const fresh = said !== undefined && planned - said.at_ms < CAPTION_MS;
    // When nothing is being said, the line keeps what must not be forgotten.
    const quiet = event.safety === "" ? "" : `Take care: ${event.safety}`;
    const double = swap && said?.words === main.set_up_how;
    const running = clock.state !== READY && clock.state !== FINISHED;
    const words = running ? (fresh && !double ? said.words : quiet) : "";
    this.#text("caption", words);
    this.#mark(this.#at("caption"), "long", words.length > LINE_COUNT ? "yes" : "no");
  }

  #progress({ clock, index }) {
    const track = this.#at("track");
    if (this.#laid !== clock.events) {
      this.#laid = clock.events;
      const stretches = clock.events.map((event, number) => {
        const stretch = this.#root.createElement("span");
        stretch.className = this.#session.events[number].kind;
        stretch.style.flexGrow = String(event.end_ms - event.start_ms);
        return stretch;
      });
      track.replaceChildren(...stretches);
    }
    [...track.children].forEach((stretch, number) => {
      stretch.classList.toggle("done", number < index);
      stretch.classList.toggle("here", number === index);
    });
    const share = clock.endMs > 0 ? clock.position() / clock.endMs : 0;
    this.#at("marker").style.left = `${(share * 100).toFixed(2)}%`;
    const gone = Math.floor(clock.position() / 1000);
    const whole = Math.round(clock.endMs / 1000);
    this.#text("gone", `${minutes(gone)} of ${minutes(whole)}`);
  }

  #question(clock) {
    const dialog = this.#at("asking");
    if (clock.state !== ASKING) {
      if (dialog.open) {
        dialog.close();
      }
      return;
    }
    if (!dialog.open) {
      this.#ask(dialog);
    }
    this.#text("stopped-at", minutes(Math.floor(clock.position() / 1000)));
    this.#text("would-be", minutes(Math.floor(clock.wouldBeMs() / 1000)));
  }

  /** Open a dialog; after it the space bar means pause again, not the button that opened it. */
  #ask(dialog) {
    this.#at("toggle").focus({ preventScroll: true });
    dialog.showModal();
  }

  hold() {
    if (this.#at("stop-signs").open) {
      this.#at("stop-signs").close();
    }
    if (!this.#at("held").open) {
      this.#ask(this.#at("held"));
    }
  }

  release() {
    this.#at("held").close();
  }

  stopSigns() {
    const panel = this.#at("stop-signs");
    if (panel.open) {
      panel.close();
    } else {
      this.#ask(panel);
    }
  }

  fullScreen() {
    if (this.#root.fullscreenElement) {
      this.#root.exitFullscreen();
    } else {
      // A browser may refuse; the screen is the same, only smaller.
      this.#root.documentElement.requestFullscreen?.().catch(() => undefined);
    }
  }

  changeTheme() {
    this.#theme(this.#root.documentElement.dataset.theme === "dark" ? "bright" : "dark");
  }

  device({ words, complete }) {
    this.#text("device", words);
    this.#at("device").dataset.complete = complete ? "yes" : "no";
  }

  memory(only) {
    this.#text("memory", only ? "This device cannot keep the place if the page is reloaded." : "");
  }

  newer(waiting) {
    const words = "A newer session is here. It is taken up when this one has ended.";
    this.#text("newer", waiting ? words : "");
  }

  #lastTheme() {
    try {
      const last = localStorage.getItem(THEME_KEY);
      if (last === "dark" || last === "bright") {
        return last;
      }
    } catch {
      // nothing may be kept here; the device's own wish decides
    }
    return matchMedia("(prefers-color-scheme: dark)").matches ? "dark" : "bright";
  }

  #theme(name) {
    this.#root.documentElement.dataset.theme = name;
    this.#text("theme-words", name === "dark" ? "Bright" : "Dark");
    try {
      localStorage.setItem(THEME_KEY, name);
    } catch {
      // it is chosen again next time
    }
  }

  #at(id) {
    return this.#root.getElementById(id);
  }

  /** Write only what changed: screen readers hear each change once, and the page stays calm. */
  #text(id, words) {
    if (this.#shown.get(id) !== words) {
      this.#shown.set(id, words);
      this.#at(id).textContent = words;
    }
  }

  #words(id, words) {
    this.#text(`${id}-words`, words);
    this.#at(id).hidden = words === "";
  }

  #list(id, lines) {
    const all = lines.join("\n");
    if (this.#shown.get(id) !== all) {
      this.#shown.set(id, all);
      const items = lines.map((line) => {
        const item = this.#root.createElement("li");
        item.textContent = line;
        return item;
      });
      this.#at(id).replaceChildren(...items);
      this.#at(id).hidden = lines.length === 0;
    }
  }

  #mark(element, name, value) {
    if (element.dataset[name] !== value) {
      element.dataset[name] = value;
    }
  }
}

/** Seconds as “4:05”. */
export function minutes(seconds) {
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

function placeWords(event) {
  const parts = [];
  if (event.round !== null) {
    parts.push(`Round ${event.round} of ${event.rounds}`);
  }
  if (event.station !== null) {
    parts.push(`Station ${event.station} of ${event.stations}`);
  }
  return parts.join(" · ");
}

function bar(part) {
  const box = document.createElement("span");
  box.style.flexGrow = String(part.ms);
  const fill = document.createElement("i");
  box.append(fill);
  return box;
}
