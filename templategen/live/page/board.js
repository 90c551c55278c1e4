/* A board with its faults, in the file's own numbers from the lower left: what is pointed at is put there or taken away. */
import { now, make, draw, change, figure, say, t } from "./told.js";

const KEYS = { knot: "faults", rectangle: "fault_areas" };
const next = { kind: "knot", long: "", wide: "" };

export function board(one, at) {
  const per = now.units === "in" ? 25.4 : 1, long = one.length / per, wide = one.width / per, name = one.written.name || "board";
  const svg = draw("svg", { viewBox: `${-long / 300} ${-long / 300} ${long * 151 / 150} ${wide + long / 150}`, role: "group", "aria-label": `${name}, its faults` });
  svg.append(draw("rect", { class: "blank", x: 0, y: 0, width: long, height: wide }), ...ends(one, per, long, wide));
  const made = { one, path: `stock[${at + 1}]`, per, long, wide, name, svg, grain: per > 1 ? 16 : 1 };
  spots(made);
  const fields = one.of ? null : typed(made);
  if (fields) { pointing(made, fields); }
  return make("div.board", {}, make("h3", {}, name), make("div.scroll", { tabindex: "0", role: "region", "aria-label": `${name}, from end to end` }, svg),
    fields ? fields.box : null);
}

function ends(one, per, long, wide) {
  const [left, right] = one.bad_ends.map((end) => end / per);
  return [[0, left], [long - right, right]].filter(([, width]) => width > 0)
    .map(([x, width]) => draw("rect", { class: "bad-end", x, y: 0, width, height: wide }));
}

/* Knots and rectangles that are there; a click, Enter or Delete takes one away. */
function spots({ one, path, per, wide, svg }) {
  const away = (key, number) => {
    const left = one.written[key].filter((_, other) => other !== number);
    change({ [`${path}.${key}`]: left.length ? left : null }, "a fault taken away");
  };
  const put = (shape, key, number, says) => {
    svg.append(shape);
    if (one.of) { return; }
    Object.entries({ tabindex: "0", role: "button", "aria-label": `${says}: take away` }).forEach(([name, value]) => shape.setAttribute(name, value));
    shape.addEventListener("pointerdown", (event) => event.stopPropagation());
    shape.addEventListener("click", () => away(key, number));
    shape.addEventListener("keydown", (event) => { if (["Enter", " ", "Delete"].includes(event.key)) { event.preventDefault(); away(key, number); } });
  };
  const told = (...sizes) => sizes.map((size) => figure(size, 3)).join(", ");
  one.areas.forEach((area, number) => {
    const [x, y, width, height] = area.map((size) => size / per);
    put(draw("rect", { class: "knot", x, y: wide - y - height, width, height }), "fault_areas", number, `fault from ${told(x, y)}, ${told(width)} long, ${told(height)} wide`);
  });
  one.faults.forEach((knot, number) => {
    const [x, y, across] = knot.map((size) => size / per);
    put(draw("circle", { class: "knot", cx: x, cy: wide - y, r: across / 2 }), "faults", number, `knot at ${told(x, y)}, ${told(across)} across`);
  });
}

/* What is put next: its kind and sizes, and the place where it is typed; then the ends that are no use. */
function typed(made) {
  const { one, path, per, name, svg } = made, [left, right] = one.written.bad_ends || ["", ""];
  const field = (says, value, size) => make("input", { size: size || "5", inputmode: "decimal", value, "aria-label": `${name}: ${says}` });
  const kind = make("select", { "aria-label": `${name}: ${t("what is put next")}` }, ...Object.keys(KEYS).map((word) => make("option", { value: word }, t(word))));
  const long = field(t("how large it is"), next.long || (per > 1 ? "1.5" : "40")), wide = field(t("how wide the rectangle is"), next.wide || (per > 1 ? "1" : "25"));
  const x = field(t("from the left end"), ""), y = field(t("from the lower edge"), ""), across = make("label", {}, t("wide"), wide);
  const shown = () => { across.hidden = kind.value === "knot"; svg.classList.toggle("drawn-about", kind.value === "rectangle"); };
  kind.value = next.kind;
  kind.addEventListener("change", () => { next.kind = kind.value; shown(); });
  long.addEventListener("change", () => { next.long = long.value; });
  wide.addEventListener("change", () => { next.wide = wide.value; });
  shown();
  const put = (at, size) => {
    const key = KEYS[kind.value], sizes = size || [long, wide].slice(0, kind.value === "knot" ? 1 : 2).map((one_) => Number(one_.value));
    change({ [`${path}.${key}`]: [...(one.written[key] || []), [...at, ...sizes]] }, `a ${kind.value} on ${name}`);
  };
  const there = () => {
    const empty = [x, y].find((one_) => !one_.value.trim());
    if (empty) { empty.focus(); say(t("How far from the left, and from below?"), true); return; }
    put([Number(x.value), Number(y.value)]);
    x.value = y.value = "";
  };
  const bad = [field(t("no use at the left end"), left), field(t("no use at the right end"), right)];
  const worse = () => {
    const ends_ = bad.map((one_) => Number(one_.value) || 0);
    change({ [`${path}.bad_ends`]: ends_.some(Boolean) ? ends_ : null }, `ends of ${name}`);
  };
  bad.forEach((one_) => one_.addEventListener("change", worse));
  const box = make("p.row", {}, make("label", {}, t("put next"), kind), make("label", {}, t("across, or long"), long), across,
    make("label", {}, t("from the left"), x), make("label", {}, t("from below"), y), make("button", { type: "button", onclick: there }, t("put it there")),
    make("label", {}, t("no use at the left end"), bad[0]), make("label", {}, t("at the right"), bad[1]));
  return { box, put, kind };
}

/* A click puts one of the sizes that are typed; a rectangle may be drawn from corner to corner. */
function pointing({ svg, long, wide, grain }, { put, kind }) {
  const whole = (value, most) => Math.round(Math.min(Math.max(value, 0), most) * grain) / grain;
  const place = (event) => {
    const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return [whole(spot.x, long), whole(wide - spot.y, wide)];
  };
  let from = null, shape = null;
  svg.addEventListener("pointerdown", (event) => {
    from = place(event);
    if (kind.value !== "rectangle") { return; }
    shape = draw("rect", { class: "knot" });
    svg.append(shape);
    svg.setPointerCapture(event.pointerId);
  });
  const box = (to) => [Math.min(from[0], to[0]), Math.min(from[1], to[1]), Math.abs(to[0] - from[0]), Math.abs(to[1] - from[1])];
  svg.addEventListener("pointermove", (event) => {
    if (!shape) { return; }
    const [x, y, width, height] = box(place(event));
    Object.entries({ x, y: wide - y - height, width, height }).forEach(([name, value]) => shape.setAttribute(name, value));
  });
  const dropped = () => { if (shape) { shape.remove(); } from = shape = null; };
  svg.addEventListener("pointercancel", dropped);
  svg.addEventListener("pointerup", (event) => {
    if (!from) { return; }
    const [x, y, width, height] = box(place(event)), start = from, drawn = shape && width > 0 && height > 0;
    dropped();
    if (drawn) { put([x, y], [width, height]); } else { put(start); }
  });
}
