/* The sizes: a row for each key, written out of the table of keys; what is typed goes into the file. */
import { now, on, tell, make, change, words, refill, t } from "./told.js";

const rows = new Map();

export function form() {
  const table = document.getElementById("of-table"), shop = document.getElementById("of-shop");
  const open = [...document.querySelectorAll("details.of[open]")].map((one) => one.dataset.section);
  const stood = document.activeElement.closest("[data-key]")?.dataset.key;
  rows.clear();
  table.replaceChildren(chapter("head", t("the table as a whole"), now.form.head, true));
  shop.replaceChildren();
  now.form.sections.forEach((section) => {
    (section.table ? table : shop).append(chapter(section.name, section.heading, section.keys, section.name === "top"));
  });
  open.forEach((name) => { document.querySelector(`details.of[data-section=${name}]`).open = true; });
  fill();
  if (stood) { focus(stood); }
}

function chapter(name, heading, keys, open) {
  const titles = { head: t("Table"), top: t("Top"), slats: t("Slats"), joints: t("Joints"), legs: t("Legs"), base: t("Ground cross"), edges: t("Edges"), dxf: "DXF" };
  const box = make("details.of", { open, "data-section": name },
    make("summary", {}, (titles[name] || name[0].toUpperCase() + name.slice(1)) + " ", make("span", {}, heading)));
  keys.forEach((key) => box.append(row(key)));
  return box;
}

function row(key) {
  const box = make("div.size", { "data-key": key.path }), id = "k-" + key.path.replace(".", "-");
  const field = fields(key, id);
  const says = key.kind === "list" || key.kind === "words" || radio(key)
    ? make("span.says", { id: id + "-l" }, key.doc) : make("label.says", { for: id }, key.doc);
  box.append(make("span", {}, says, " ", make("code", {}, key.path)), field.box, make("span.more", { id: id + "-m" }));
  field.all.forEach((one) => one.setAttribute("aria-describedby", id + "-m"));
  rows.set(key.path, { box, key, field });
  box.addEventListener("pointerenter", () => tell("size", key.path));
  box.addEventListener("pointerleave", () => tell("size", ""));
  box.addEventListener("focusin", () => tell("size", key.path));
  return box;
}

function radio(key) { return key.kind === "choice" && key.choices.length <= 4; }

/* The field or fields of a key; `read` gives what stands there as TOML has it, `show` puts it there. */
function fields(key, id) {
  if (radio(key)) {
    const all = key.choices.map((word) => make("input", { type: "radio", name: id, value: word }));
    const box = make("span.in.words", { role: "radiogroup", "aria-labelledby": id + "-l" },
      ...all.map((one) => make("label", {}, one, " " + one.value)));
    box.addEventListener("change", () => put(key, all.find((one) => one.checked).value));
    return { box, all, show: (held) => all.forEach((one) => { one.checked = one.value === String(held.value); }) };
  }
  if (key.kind === "choice") {
    const list = make("select", { id }, ...key.choices.map((word) => make("option", { value: word }, word)));
    list.addEventListener("change", () => put(key, list.value));
    return { box: make("span.in", {}, list), all: [list], show: (held) => { list.value = String(held.value); } };
  }
  if (key.kind === "words") {
    const all = key.choices.map((word) => make("input", { type: "checkbox", value: word }));
    const box = make("span.in.words", { role: "group", "aria-labelledby": id + "-l" },
      ...all.map((one) => make("label", {}, one, " " + one.value)));
    box.addEventListener("change", () => put(key, all.filter((one) => one.checked).map((one) => one.value)));
    return { box, all, show: (held) => all.forEach((one) => { one.checked = held.value.includes(one.value); }) };
  }
  if (key.kind === "list") {
    const all = key.parts.map((part) => make("input", { "aria-label": key.doc + ", " + part.doc, title: part.doc, inputmode: "text" }));
    const box = make("span.in.many", { role: "group", "aria-labelledby": id + "-l" }, ...all, key.parts[0].unit);
    box.addEventListener("change", () => put(key, all.every((one) => !one.value.trim()) ? null : all.map((one) => toml(one.value))));
    return { box, all, show: (held) => {
      const shown = Array.isArray(held.written) ? held.written : held.value;
      all.forEach((one, at) => { one.value = one.defaultValue = shown[at] === undefined ? "" : shown[at]; });
    } };
  }
  const text = make("input", { id, type: "text", spellcheck: "false", inputmode: "text" });
  const whole = ["rows", "faults", "paper"].includes(key.kind);
  text.addEventListener("change", () => put(key, given(key, text.value)));
  text.addEventListener("keydown", (event) => stepped(event, key, text));
  return { box: make("span.in", {}, text, key.unit), all: [text], show: (held) => {
    const shown = held.written === null || held.written === undefined ? held.value : held.written;
    text.value = text.defaultValue = whole && typeof shown !== "string" ? JSON.stringify(shown) : shown;
  } };
}

function given(key, text) {
  if (!text.trim()) { return null; }
  if (["rows", "faults", "paper"].includes(key.kind) && text.trim().startsWith("[")) {
    try { return JSON.parse(text); } catch (none) { return text; }
  }
  return ["text", "wood", "paper"].includes(key.kind) ? text.trim() : toml(text);
}

function toml(text) { return /^-?\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim(); }

/* Up and down step a plain number; with Shift by ten. */
function stepped(event, key, text) {
  const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (!way || !/^-?\d+(\.\d+)?$/.test(text.value.trim())) { return; }
  const step = (key.kind === "length" && now.units === "in" ? 0.0625 : 1) * (event.shiftKey ? 10 : 1);
  text.value = String(Math.round((Number(text.value) + way * step) * 1e4) / 1e4);
  event.preventDefault();
  put(key, Number(text.value));
}

/* Until it is answered a field keeps what was typed, whatever comes of changes before it. */
function put(key, value) {
  const row = rows.get(key.path);
  clear(key.path);
  row.waiting = (row.waiting || 0) + 1;
  row.field.all.forEach((one) => { if (one.type === "text") { one.defaultValue = one.value; } });
  return change({ [key.path]: value }, key.doc).finally(() => { row.waiting -= 1; fill(); });
}

/* What stands in the file now; a field that is being typed in is left alone. */
export function fill() {
  rows.forEach(({ box, key, field, waiting }, path) => {
    const held = now.held[path];
    if (!held) { return; }
    box.classList.toggle("set", held.written !== null && held.written !== undefined);
    const typing = field.all.includes(document.activeElement) && field.all.some((one) => one.type === "text" && one.value !== one.defaultValue);
    if (!box.classList.contains("bad") && !waiting && !typing) { field.show(held); }
    const range = key.low !== key.high ? t("{least} to {most}", { least: key.low, most: key.high }) + (key.why ? t(", since {why}", { why: key.why }) : "") : "";
    const parts = key.parts.map((part) => part.doc + (part.low !== part.high ? " " + t("{least} to {most}", { least: part.low, most: part.high }) : "")).join("; ");
    const says = [held.of ? t("from {file}; what is typed here holds for this table alone", { file: held.of }) : "", held.reckoned ? t("comes to {value} {unit}, by arithmetic", { value: held.value, unit: key.unit }) : "", range, parts,
      t("default") + " " + (Array.isArray(key.default) ? key.default.join(", ") : key.default)];
    box.querySelector(".more").textContent = says.filter(Boolean).join(" · ");
  });
  document.getElementById("unit").textContent = now.units;
  workshop();
}

/* The workshop file that holds, and the one that this table names. */
function workshop() {
  const { file, named, key, given } = now.workshop || {};
  const field = make("input", { id: "workshop-file", value: named || "", placeholder: file || "none", disabled: given });
  field.addEventListener("change", () => change({ [key]: field.value.trim() || null }, "the workshop file"));
  refill(document.getElementById("workshop"), make("p", {}, file ? t("Tools, rates and boards that this table doesn't set itself are those of {file}.", { file }) : t("No workshop file is in use: what this table doesn't set itself has its default.")),
    make("p.row", {}, make("label", { for: "workshop-file" }, t("workshop file beside this table"), field)),
    make("p.hint", {}, given ? t("The command named it by --shop.") : t("Empty: your own, from your system's folder for settings, where you have one. “none”: no such file. “templategen start my-shop --workshop” writes one.")));
}

function clear(path) {
  const row = rows.get(path);
  if (!row) { return; }
  row.box.classList.remove("bad");
  row.box.querySelectorAll(".fault,.offers").forEach((one) => one.remove());
}

on("state", () => { rows.forEach((row, path) => { if (!row.waiting) { clear(path); } }); fill(); });

/* A value that was refused stays as it was typed, with what would do. */
on("refused", ({ faults, offers, changes }) => {
  Object.keys(changes).forEach((path) => {
    const row = rows.get(path);
    if (!row) { return; }
    row.box.classList.add("bad");
    row.box.append(make("span.fault", { role: "alert" }, words(faults)), offered(offers));
  });
});

/* Once it is taken the button is gone: who stood on it stands at the size that it changed. */
async function taken(one) {
  await change(one.changes, one.words);
  if (document.activeElement === document.body) { focus(Object.keys(one.changes)[0]); }
}

export function offered(offers) {
  return make("span.offers", {}, offers.length ? make("span", {}, t("would do:")) : "", ...offers.map((one) => {
    return make("button", { type: "button", onclick: () => taken(one) }, one.words);
  }));
}

/* Sizes come forward: those of a part that is pointed at. */
export function forward(paths, open) {
  rows.forEach(({ box }, path) => box.classList.toggle("near", paths.includes(path)));
  document.querySelectorAll("details.of").forEach((one) => one.classList.toggle("near", Boolean(one.querySelector(".size.near"))));
  const first = rows.get(paths[0]);
  if (!first || !open) { return; }
  paths.forEach((path) => { const row = rows.get(path); if (row) { row.box.closest("details").open = true; } });
  first.box.scrollIntoView({ block: "nearest" });
}

export function focus(path) {
  const row = rows.get(path);
  if (!row) { return; }
  row.box.closest("details").open = true;
  (row.field.all.find((one) => one.checked) || row.field.all[0]).focus({ preventScroll: true });
  row.box.scrollIntoView({ block: "nearest" });
}

export function keyOf(path) { const row = rows.get(path); return row ? row.key : null; }
