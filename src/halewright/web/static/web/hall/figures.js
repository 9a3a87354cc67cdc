/** Pictures of the movements: stills, or frames shown there and back at the movement's pace. */

/** One place on the page that shows one movement at a time. */
export class Figure {
  #box;
  #figures;
  #shown = null;
  #frames = [];
  #frame = -1;

  constructor({ box, figures }) {
    this.#box = box;
    this.#figures = figures;
  }

  /** Show a movement; null, or one without a picture, empties the place. */
  show({ movement, mirrored }) {
    const key = `${movement}/${mirrored}`;
    if (key === this.#shown) {
      return;
    }
    this.#shown = key;
    this.#frame = -1;
    const figure = movement === null ? undefined : this.#figures[movement];
    this.#frames = (figure?.frames ?? []).map(picture);
    this.#box.replaceChildren(...this.#frames);
    this.#box.setAttribute("aria-label", figure?.description ?? "");
    this.#box.hidden = this.#frames.length === 0;
    this.#box.classList.toggle("mirrored", mirrored);
    this.reach(1);
  }

  /** Whether nothing is shown. */
  get empty() {
    return this.#frames.length === 0;
  }

  /** Show the frame nearest to `share` of the way out (0 start, 1 far end). */
  reach(share) {
    const frame = Math.round(share * (this.#frames.length - 1));
    if (frame === this.#frame) {
      return;
    }
    this.#frames.forEach((image, index) => image.classList.toggle("shown", index === frame));
    this.#frame = frame;
  }
}

function picture(svg) {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  image.alt = ""; // the place as a whole is described
  image.decoding = "sync";
  return image;
}
