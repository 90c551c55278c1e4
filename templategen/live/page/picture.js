/* The picture: parts that can be pointed at, sizes drawn on it as dimensions whose end can be drawn about. */
import { turning } from "./turning.js";
import { now, on, ask, send, say, change, draw, drawing, make } from "./told.js";
import { forward, focus, keyOf } from "./sizes.js";

const flat = document.getElementById("flat"), turn = document.getElementById("turn"), part = document.getElementById("part");
let spans = [], pinned = "", turned = null, held = null, nudged = null;

export async function show() {
  try { lay(await ask(`picture?view=${now.view}&part=${encodeURIComponent(now.part)}`)); } catch (trouble) { say(trouble.message, true); }
}

export function lay(shown) {
  if (!shown) { return; }
  spans = shown.spans;
  part.hidden = now.view !== "part";
  if (shown.scene) {
    flat.replaceChildren();
    turn.hidden = false;
    turn.querySelector("[data-apart]").value = now.view === "apart" ? 100 : 0;
    if (turned) { turned.load(shown.scene); } else { turned = turning(turn, shown.scene); }
    if (!turned) { turn.hidden = true; flat.textContent = "This browser turns no solids; the other pictures show the same table."; }
    caption("draw it about, or use the arrows; nothing here is to scale");
    return;
  }
  turn.hidden = true;
  if (now.view === "part") {
    now.part = shown.part;
    part.value = shown.part;
    const drawn = shown.svg.map(drawing), widest = Math.max(...drawn.map((one) => one.viewBox.baseVal.width));
    drawn.forEach((one) => { one.style.width = `${100 * one.viewBox.baseVal.width / widest}%`; });
    flat.replaceChildren(...drawn.flatMap((one, at) => [make("h3", {}, shown.titles[at]), one, make("ul", {}, ...shown.notes[at].map((one) => make("li", {}, one)))]));
    caption(`${shown.part}: ${shown.name}, ${shown.count} of them`);
    forward(now.form.of_parts[shown.kind] || [], false);
    return;
  }
  const gripped = document.activeElement && document.activeElement.closest(".grip");
  flat.replaceChildren(drawing(shown.svg[0]));
  caption("point at a part for its sizes, at a size to see it here; draw the ring at its end, or use the arrows on it");
  mark(pinned);
  if (gripped && flat.querySelector(".grip")) { flat.querySelector(".grip").focus({ preventScroll: true }); }
}

function caption(text) { document.getElementById("caption").textContent = text; }

/* One size as a dimension. */
function mark(path) {
  const svg = flat.querySelector("svg");
  if (!svg || held) { return; }
  svg.querySelectorAll(".span").forEach((one) => one.remove());
  spans.filter((one) => one.key === path).slice(0, 1).forEach((span) => svg.append(dimension(span)));
}

function dimension(span) {
  const [fx, fy, mx, my] = span.at, back = span.times === 2 ? [2 * fx - mx, 2 * fy - my] : [fx, fy];
  const view = flat.querySelector("svg").viewBox.baseVal, size = Math.max(view.width, view.height);
  const long = Math.hypot(mx - fx, my - fy) || 1, ux = (mx - fx) / long, uy = (my - fy) / long, bar = size / 90;
  const key = now.held[span.key] || {}, can = key.reckoned !== true && keyOf(span.key);
  const group = draw("g", { class: "span", "data-span": span.key });
  const tick = (x, y) => draw("line", { x1: x - uy * bar, y1: -(y + ux * bar), x2: x + uy * bar, y2: -(y - ux * bar) });
  group.append(draw("line", { x1: back[0], y1: -back[1], x2: mx, y2: -my }), tick(back[0], back[1]), tick(mx, my));
  const text = draw("text", { x: (back[0] + mx) / 2 - uy * bar, y: -((back[1] + my) / 2 + Math.abs(ux) * bar), "font-size": size / 38, "text-anchor": "middle" });
  text.textContent = `${key.value} ${now.units}`;
  group.append(text);
  if (can) {
    const grip = draw("g", { class: "grip", tabindex: "0", role: "slider", "aria-label": keyOf(span.key).doc, "aria-valuenow": key.value, "aria-valuetext": `${key.value} ${now.units}`, "aria-valuemin": parseFloat(keyOf(span.key).low), "aria-valuemax": parseFloat(keyOf(span.key).high) }, draw("circle", { cx: mx, cy: -my, r: size / 70 }));
    grip.addEventListener("pointerdown", (event) => begin(event, span, group));
    grip.addEventListener("keydown", (event) => nudge(event, span));
    group.append(grip);
  } else {
    const why = draw("title", {});
    why.textContent = "worked out by arithmetic: type a size to put one in its place";
    group.append(why);
  }
  return group;
}

const grain = () => (now.units === "in" ? 1 / 16 : 1), per = () => (now.units === "in" ? 25.4 : 1);

function rounded(mm) { return Math.max(grain(), Math.round(mm / per() / grain()) * grain()); }

function nudge(event, span) {
  const way = { ArrowUp: 1, ArrowRight: 1, ArrowDown: -1, ArrowLeft: -1 }[event.key];
  if (!way) { return; }
  event.preventDefault();
  const from = nudged && nudged.key === span.key ? nudged.value : Number(now.held[span.key].value);
  const mine = { key: span.key, value: Math.round((from + way * grain() * (event.shiftKey ? 10 : 1)) * 1e4) / 1e4 };
  nudged = mine;
  pinned = span.key;
  change({ [span.key]: mine.value }, keyOf(span.key).doc).then(() => { if (nudged === mine) { nudged = null; } });
}

/* While an end is drawn about the picture follows, as fast as it is answered; the file is written once, at the end. */
function begin(event, span, group) {
  const svg = flat.querySelector("svg"), from = span.at, long = Math.hypot(from[2] - from[0], from[3] - from[1]) || 1;
  const unit = [(from[2] - from[0]) / long, (from[3] - from[1]) / long];
  held = { span, value: null, asked: null, busy: false, text: group.querySelector("text") };
  event.preventDefault();
  const stage = document.getElementById("stage");
  stage.setPointerCapture(event.pointerId);
  const move = (now_) => {
    const frame = flat.querySelector("svg").getScreenCTM();
    if (!frame) { return; }
    const at = new DOMPoint(now_.clientX, now_.clientY).matrixTransform(frame.inverse());
    const along = (at.x - from[0]) * unit[0] + (-at.y - from[1]) * unit[1];
    const value = Math.round(rounded(span.times * along) * 1e4) / 1e4;
    if (value !== held.value) { held.value = value; follow(); }
  };
  const end = async () => {
    stage.removeEventListener("pointermove", move);
    stage.removeEventListener("pointerup", end);
    stage.removeEventListener("pointercancel", end);
    const value = held.value;
    held = null;
    pinned = span.key;
    if (value !== null) { await change({ [span.key]: value }, keyOf(span.key).doc); }
    mark(pinned);
  };
  stage.addEventListener("pointermove", move);
  stage.addEventListener("pointerup", end);
  stage.addEventListener("pointercancel", end);
  svg.style.cursor = "grabbing";
}

async function follow() {
  if (!held || held.busy) { return; }
  const mine = held, value = held.value;
  mine.busy = true;
  say(`${mine.span.key} = ${value} ${now.units}`);
  try {
    const shown = await send("look", { changes: { [mine.span.key]: value } });
    if (held === mine) {
      flat.replaceChildren(drawing(shown.svg[0]));
      const span = shown.spans.find((one) => one.key === mine.span.key);
      if (span) { const group = dimension(span); group.querySelector("text").textContent = `${value} ${now.units}`; flat.querySelector("svg").append(group); }
    }
  } catch (trouble) { if (held === mine) { say(trouble.message, true); } }
  mine.busy = false;
  if (held === mine && held.value !== value) { follow(); }
}

on("size", (path) => { if (spans.some((one) => one.key === path)) { pinned = path; } mark(pinned); if (path) { light(path); } });

/* A size that is pointed at lights the parts that it says most of. */
function light(path) {
  const kinds = Object.keys(now.form.of_parts).filter((kind) => now.form.of_parts[kind].includes(path));
  const codes = now.parts.filter((one) => kinds.includes(one.kind)).map((one) => one.code);
  flat.querySelectorAll("[data-part]").forEach((one) => one.classList.toggle("lit", kinds.length < 3 && codes.includes(one.dataset.part)));
}

function pointed(event) {
  const near = event.target.closest ? event.target.closest("#stage [data-part]") : null;
  return near ? now.parts.find((one) => one.code === near.dataset.part) : null;
}

document.getElementById("stage").addEventListener("pointerover", (event) => {
  const found = pointed(event);
  if (!found || held) { return; }
  flat.querySelectorAll("[data-part]").forEach((one) => one.classList.toggle("lit", one.dataset.part === found.code));
  caption(`${found.code}: ${found.name}, ${found.count} of them; its sizes are marked`);
  forward(now.form.of_parts[found.kind] || [], false);
});

document.getElementById("stage").addEventListener("click", (event) => {
  const found = pointed(event);
  if (found) { forward(now.form.of_parts[found.kind] || [], true); focus((now.form.of_parts[found.kind] || [])[0]); }
});

document.getElementById("views").addEventListener("change", (event) => {
  if (event.target.name === "view") { now.view = event.target.value; }
  if (event.target === part) { now.part = part.value; }
  show();
});

on("parts", () => {
  part.replaceChildren(...now.parts.map((one) => make("option", { value: one.code }, `${one.code}, ${one.name}`)));
  if (now.part) { part.value = now.part; }
});
