/** Where a repetition stands: its part in words, how far, and how far the figure has moved. */

const PARTS = [
  ["out_ms", "Out"],
  ["hold_ms", "Hold"],
  ["back_ms", "Back"],
  ["pause_ms", "Rest"],
];

/** The parts of a pace that last at all, in order: `{name, words, ms}`. */
export function parts(pace) {
  return PARTS.map(([name, words]) => ({ name, words, ms: pace[name] })).filter(({ ms }) => ms > 0);
}

/**
 * What happens `intoMs` after the first repetition began: its number from 1, the part, the share
 * of the part that has passed, whole seconds left of it, and `reach` (0 start, 1 far end).
 */
export function at(pace, intoMs) {
  const all = parts(pace);
  const repMs = all.reduce((sum, part) => sum + part.ms, 0);
  if (repMs <= 0) {
    return null;
  }
  let rest = intoMs % repMs;
  const index = all.findIndex((part) => {
    if (rest < part.ms) {
      return true;
    }
    rest -= part.ms;
    return false;
  });
  const part = all[index];
  const share = rest / part.ms;
  return {
    rep: Math.floor(intoMs / repMs) + 1,
    index,
    words: part.words,
    share,
    leftS: Math.ceil((part.ms - rest) / 1000),
    reach: reach(part.name, share),
  };
}

function reach(name, share) {
  const eased = (1 - Math.cos(Math.PI * share)) / 2; // limbs start and stop softly
  return { out_ms: eased, hold_ms: 1, back_ms: 1 - eased, pause_ms: 0 }[name];
}
