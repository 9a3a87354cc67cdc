/** The keyboard: one hand, no need to look. */

const COMMANDS = {
  " ": "toggle",
  ArrowRight: "skip",
  ArrowLeft: "back",
  ArrowUp: "extend",
  "+": "extend",
  f: "fullScreen",
  h: "hold",
  s: "stopSigns",
  PageDown: "skip",
  PageUp: "back",
};

/** Call `commands[name]()` for each key that means something. Page keys are those of clickers. */
export function listen({ target, commands }) {
  target.addEventListener("keydown", (event) => {
    if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) {
      return;
    }
    if (event.target.closest("dialog[open]")) {
      return; // a dialog is answered with its own buttons
    }
    if (event.key === " " && event.target.matches("button:focus-visible")) {
      return; // a button reached with the Tab key is pressed, as everywhere else
    }
    const command = COMMANDS[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (command) {
      event.preventDefault();
      commands[command]();
    }
  });
}
