/* The picture: parts that can be pointed at, sizes drawn on it as dimensions whose end can be drawn about. */
import { turning } from "./turning.js";
import { now, on, ask, send, say, change, draw, drawing, make, t } from "./told.js";
import { forward, focus, keyOf } from "./sizes.js";
import { nearing } from "./nearer.js";

const flat = document.getElementById("flat"), turn = document.getElementById("turn"), part = document.getElementById("part"), drawn = document.getElementById("drawn");
let spans = [], pinned = "", turned = null, held = null, nudged = null, asked = 0;

const NARROW = 430;
const near = nearing(flat, () => mark(pinned));

/* Letters are larger where the picture is narrow; who turns a phone gets it anew. */
function narrow() { return (flat.clientWidth || document.getElementById("stage").clientWidth) < NARROW; }
new ResizeObserver(() => { if (flat.clientWidth && now.narrow !== undefined && now.narrow !== narrow()) { show(); } }).observe(flat);

/* An answer that comes after another picture was asked for is let go. */
export async function show() {
  now.narrow = narrow();
  const mine = ++asked;
  try {
    const shown = await ask(`picture?view=${now.view}&part=${encodeURIComponent(now.part)}${now.narrow ? "&narrow=1" : ""}`);
    if (mine === asked) { lay(shown); }
  } catch (trouble) { say(trouble.message, true); }
}

export function lay(shown) {
  if (!shown || shown.view !== now.view) { return; }
  spans = shown.spans;
  part.hidden = now.view !== "part";
  named();
  document.getElementById("near-far").hidden = Boolean(shown.scene);
  if (shown.scene) {
    flat.replaceChildren();
    turn.hidden = false;
    turn.querySelector("[data-apart]").value = now.view === "apart" ? 100 : 0;
    if (turned) { turned.load(shown.scene); } else { turned = turning(turn, shown.scene); }
    if (!turned) { turn.hidden = true; flat.textContent = t("This browser turns no solids; the other pictures show the same table."); }
    caption(t("draw it about, or use the arrows; nothing here is to scale"));
    return;
  }
  turn.hidden = true;
  if (now.view === "part") {
    now.part = shown.part;
    part.value = shown.part;
    put(...shown.svg.flatMap((one, at) => [make("h3", {}, shown.titles[at]), drawing(one), make("ul", {}, ...shown.notes[at].map((note) => make("li", {}, note)))]));
    caption(`${shown.part}: ${shown.name}, ${shown.count} of them`);
    forward(now.form.of_parts[shown.kind] || [], false);
    return;
  }
  const gripped = document.activeElement && document.activeElement.closest(".grip");
  put(drawing(shown.svg[0]));
  caption(t("point at a part for its sizes, at a size to see it here; draw the ring at its end, or use the arrows on it"));
  if (gripped && flat.querySelector(".grip")) { flat.querySelector(".grip").focus({ preventScroll: true }); }
}

/* Another picture in place of the one before, as near as that was. */
function put(...inside) {
  const at = [flat.scrollLeft, flat.scrollTop];
  flat.replaceChildren(...inside);
  near.fit();
  flat.scrollTo(at[0], at[1]);
}

/* The sizes that can be drawn on this picture, to choose from where nothing can be pointed at. */
function named() {
  const known = spans.filter((one) => keyOf(one.key));
  drawn.closest("label").hidden = !known.length;
  drawn.replaceChildren(make("option", { value: "" }, "none"), ...known.map((one) => make("option", { value: one.key }, `${one.key}: ${keyOf(one.key).doc}`)));
  drawn.value = known.some((one) => one.key === pinned) ? pinned : "";
}

function caption(text) { document.getElementById("caption").textContent = text; }

/* One size as a dimension. */
function mark(path) {
  const svg = flat.querySelector("svg");
  if (!svg || held) { return; }
  const gripped = document.activeElement.closest(".grip");
  svg.querySelectorAll(".span").forEach((one) => one.remove());
  spans.filter((one) => one.key === path).slice(0, 1).forEach((span) => svg.append(dimension(span)));
  if (gripped) { (svg.querySelector(".grip") || flat).focus({ preventScroll: true }); }
}

function dimension(span) {
  const [fx, fy, mx, my] = span.at, back = span.times === 2 ? [2 * fx - mx, 2 * fy - my] : [fx, fy];
  const pixel = 1 / (flat.querySelector("svg").getScreenCTM() || { a: 1 }).a, bar = 8 * pixel;
  const long = Math.hypot(mx - fx, my - fy) || 1, ux = (mx - fx) / long, uy = (my - fy) / long;
  const key = now.held[span.key] || {}, can = key.reckoned !== true && keyOf(span.key);
  const group = draw("g", { class: "span", "data-span": span.key });
  const tick = (x, y) => draw("line", { x1: x - uy * bar, y1: -(y + ux * bar), x2: x + uy * bar, y2: -(y - ux * bar) });
  group.append(draw("line", { x1: back[0], y1: -back[1], x2: mx, y2: -my }), tick(back[0], back[1]), tick(mx, my));
  const text = draw("text", { x: (back[0] + mx) / 2 - uy * bar, y: -((back[1] + my) / 2 + Math.abs(ux) * bar), "font-size": 15 * pixel, "text-anchor": "middle" });
  text.textContent = `${key.value} ${now.units}`;
  group.append(text);
  if (can) {
    const grip = draw("g", { class: "grip", tabindex: "0", role: "slider", "aria-label": keyOf(span.key).doc, "aria-valuenow": key.value, "aria-valuetext": `${key.value} ${now.units}`, "aria-valuemin": parseFloat(keyOf(span.key).low), "aria-valuemax": parseFloat(keyOf(span.key).high) }, draw("circle", { class: "reach", cx: mx, cy: -my, r: 22 * pixel }), draw("circle", { cx: mx, cy: -my, r: 8 * pixel }));
    grip.addEventListener("pointerdown", (event) => begin(event, span, group));
    grip.addEventListener("keydown", (event) => nudge(event, span));
    group.append(grip);
  } else {
    const why = draw("title", {});
    why.textContent = t("worked out by arithmetic: type a size to put one in its place");
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
  const along = (now_) => {
    const at = new DOMPoint(now_.clientX, now_.clientY).matrixTransform(flat.querySelector("svg").getScreenCTM().inverse());
    return (at.x - from[0]) * unit[0] + (-at.y - from[1]) * unit[1];
  };
  const beside = along(event) - long;
  const move = (now_) => {
    const value = Math.round(rounded(span.times * (along(now_) - beside)) * 1e4) / 1e4;
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
      put(drawing(shown.svg[0]));
      const span = shown.spans.find((one) => one.key === mine.span.key);
      if (span) { const group = dimension(span); group.querySelector("text").textContent = `${value} ${now.units}`; flat.querySelector("svg").append(group); }
    }
  } catch (trouble) { if (held === mine) { say(trouble.message, true); } }
  mine.busy = false;
  if (held === mine && held.value !== value) { follow(); }
}

on("size", (path) => { if (spans.some((one) => one.key === path)) { pinned = drawn.value = path; } mark(pinned); if (path) { light(path); } });
drawn.addEventListener("change", () => { pinned = drawn.value; mark(pinned); forward(pinned ? [pinned] : [], false); });
["nearer", "farther", "whole"].forEach((name) => document.getElementById(name).addEventListener("click", near[name]));

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
  caption(t("{code}: {name}, {count} of them; its sizes are marked", found));
  forward(now.form.of_parts[found.kind] || [], false);
});

document.getElementById("stage").addEventListener("click", (event) => {
  const found = pointed(event);
  if (!found) { return; }
  forward(now.form.of_parts[found.kind] || [], true);
  if (event.pointerType !== "touch") { focus((now.form.of_parts[found.kind] || [])[0]); }
});

document.getElementById("views").addEventListener("change", (event) => {
  if (event.target === drawn) { return; }
  if (event.target.name === "view") { now.view = event.target.value; }
  if (event.target === part) { now.part = part.value; }
  near.whole();
  show();
});

on("parts", () => {
  part.replaceChildren(...now.parts.map((one) => make("option", { value: one.code }, `${one.code}, ${one.name}`)));
  if (now.part) { part.value = now.part; }
});
