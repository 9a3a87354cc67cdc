// Draws the readings as they are typed and says at once what looks wrong; the server checks again.
(() => {
  const form = document.getElementById("measure");
  const svg = document.getElementById("curve");
  const words = document.getElementById("live-words");
  const limit = Number(form.dataset.limit);
  const [width, height, left, right, top, bottom] = [420, 290, 48, 14, 30, 46];
  const number = (text) => (text.trim() === "" ? NaN : Number(text.trim().replace(",", ".")));
  const field = (name) => form.elements[name];

  const read = () => {
    const slack = number(field("slack").value);
    const perUnit = field("unit").value === "kg" ? 9.80665 : 1;
    const found = [];
    for (let k = 1; field(`out-length-${k}`); k += 1) {
      const length = number(field(`out-length-${k}`).value);
      const reading = number(field(`out-reading-${k}`).value);
      if (slack > 0 && length > 0 && reading > 0) {
        found.push({ k, stretch: length / slack, pull: reading * perUnit });
      }
    }
    return { slack, found };
  };

  const doubts = ({ slack, found }) => {
    const said = [];
    for (const each of found) {
      if (each.stretch > limit + 1e-9) said.push(`Reading ${each.k} is beyond the limit. Stop at ${Math.floor(slack * limit)} cm.`);
      if (each.stretch <= 1) said.push(`Reading ${each.k} is not longer than the slack length.`);
    }
    const sorted = [...found].sort((a, b) => a.stretch - b.stretch);
    for (let k = 1; k < sorted.length; k += 1) {
      if (sorted[k].pull < sorted[k - 1].pull) said.push(`Reading ${sorted[k].k} pulls less than one at a shorter length. Measure these two again.`);
    }
    if (found.length && found.length < 5) said.push(`${found.length} of at least 5 readings.`);
    return said;
  };

  const make = (name, attributes, text) => {
    const made = document.createElementNS("http://www.w3.org/2000/svg", name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    if (text) made.textContent = text;
    svg.append(made);
  };

  const draw = (found) => {
    const mostPull = Math.max(10, ...found.map((each) => each.pull)) * 1.1;
    const step = [2, 5, 10, 20, 50, 100].find((each) => mostPull / each <= 6) ?? 100;
    const most = Math.ceil(mostPull / step) * step;
    const far = Math.max(limit, ...found.map((each) => each.stretch)) + 0.05;
    const x = (stretch) => left + ((stretch - 1) / (far - 1)) * (width - left - right);
    const y = (pull) => height - bottom - (pull / most) * (height - top - bottom);
    svg.replaceChildren();
    make("text", { x: 4, y: 16 }, "Scale reading (N)");
    make("text", { x: (left + width - right) / 2, y: height - 6, "text-anchor": "middle" }, "times its slack length");
    for (let pull = 0; pull <= most; pull += step) {
      make("path", { class: "grid", d: `M${left} ${y(pull)}H${width - right}` });
      make("text", { x: left - 8, y: y(pull) + 5, "text-anchor": "end" }, String(pull));
    }
    for (let stretch = 1; stretch <= far; stretch += 0.5) {
      make("text", { x: x(stretch), y: height - bottom + 20, "text-anchor": "middle" }, String(stretch));
    }
    make("path", { class: "limit", d: `M${x(limit)} ${top - 8}V${height - bottom}` });
    make("text", { x: x(limit) - 6, y: top - 10, "text-anchor": "end" }, "stop here");
    const sorted = found.filter((each) => each.stretch >= 1).sort((a, b) => a.stretch - b.stretch);
    if (sorted.length) {
      const d = `M${x(1)} ${y(0)}${sorted.map((each) => `L${x(each.stretch)} ${y(each.pull)}`).join("")}`;
      make("path", { class: "edge", d });
      make("path", { class: "pull", d });
    }
    for (const each of sorted) make("circle", { cx: x(each.stretch), cy: y(each.pull), r: 4.5 });
  };

  let saying = "";
  const update = () => {
    const now = read();
    draw(now.found);
    const said = doubts(now);
    const text = said.join(" ");
    if (text === saying) return;
    saying = text;
    words.replaceChildren(...said.map((each) => Object.assign(document.createElement("li"), { textContent: each })));
  };

  document.getElementById("live").hidden = false;
  form.addEventListener("input", update);
  update();
})();
