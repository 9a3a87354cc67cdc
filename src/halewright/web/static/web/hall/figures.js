/** Pictures of the movements, played there and back at the movement's pace. */

const SVG = "http://www.w3.org/2000/svg";

/** One place on the page that shows one movement at a time. */
export class Figure {
  #box;
  #figures;
  #of = null;
  #figure = null;
  #body = null;
  #drawn = new Map();
  #shown = null;

  constructor({ box, figures }) {
    this.#box = box;
    this.#figures = figures;
  }

  /** Whether nothing is shown. */
  get empty() {
    return this.#figure === null;
  }

  /** Show a movement; null, or one without a picture, empties the place. */
  show(movement) {
    if (movement === this.#of) {
      return;
    }
    this.#of = movement;
    this.#figure = this.#figures[movement] ?? null;
    this.#drawn.clear();
    this.#shown = null;
    this.#box.hidden = this.#figure === null;
    this.#box.replaceChildren();
    this.#box.setAttribute("aria-label", this.#figure?.description ?? "");
    if (this.#figure !== null) {
      const whole = picture(this.#figure);
      this.#body = whole.lastElementChild;
      this.#box.append(whole);
    }
  }

  /** Show the picture nearest to `share` of the way out (0 start, 1 far end) of a side. */
  reach({ share, side }) {
    if (this.#figure === null) {
      return;
    }
    const left = side === "left" && this.#figure.left.length > 0;
    const pictures = left ? this.#figure.left : this.#figure.right;
    const number = Math.round(share * (pictures.length - 1));
    const key = `${left}/${number}`;
    if (!this.#drawn.has(key)) {
      const group = layers({ figure: this.#figure, row: pictures[number] });
      this.#drawn.set(key, group);
      this.#body.append(group);
    }
    const group = this.#drawn.get(key);
    if (group !== this.#shown) {
      this.#shown?.setAttribute("display", "none");
      group.removeAttribute("display");
      this.#shown = group;
    }
  }
}

function picture(figure) {
  const text = `<svg xmlns="${SVG}" viewBox="${figure.view_box}">${figure.floor}<g/></svg>`;
  const whole = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  whole.setAttribute("aria-hidden", "true"); // the place as a whole is described
  whole.lastElementChild.setAttribute("transform", `scale(${figure.scale_ratio})`);
  return document.importNode(whole, true);
}

function layers({ figure, row }) {
  const group = document.createElementNS(SVG, "g");
  for (let at = 0; at < row.length; at += 2) {
    const path = document.createElementNS(SVG, "path");
    path.setAttribute("d", figure.paths[row[at]]);
    path.setAttribute("fill", figure.fills[row[at + 1]]);
    group.append(path);
  }
  return group;
}
