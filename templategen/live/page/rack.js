/* The rack: boards in a table, knots on a picture of each, and how the parts lie on them. */
import { now, on, make, draw, drawing, change, figure, refill, say } from "./told.js";

const COLUMNS = [["name", "name"], ["kind", "kind"], ["wood", "wood"], ["length", "length"], ["width", "width"], ["thickness", "thickness"], ["count", "how many"], ["price", "price each"]];
let wide = "";
const NUMBERS = ["length", "width", "thickness", "count", "price"];

function plain(name, text) {
  if (!text.trim()) { return null; }
  return NUMBERS.includes(name) && /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim();
}

export function rack() {
  const box = document.getElementById("rack");
  const rows = now.rack.map((one, at) => make("tr", {}, ...COLUMNS.map(([name, doc]) => make("td", {}, cell(one, at, name, doc))),
    make("td.figure", {}, String(used(one.written.name))),
    make("td", {}, make("button", { type: "button", "aria-label": `take away ${one.written.name}`, onclick: () => change({ [`stock[${at + 1}]`]: null }, `${one.written.name} taken away`) }, "take away"))));
  const head = make("tr", {}, ...COLUMNS.map(([, doc]) => make("th", { scope: "col" }, doc)), make("th", { scope: "col" }, "used"), make("th", { scope: "col" }, make("span.out", {}, "take away")));
  refill(box,
    make("p.hint", {}, now.rack.length ? `Sizes in ${now.units}; “how many” left empty: as many as are needed. Put knots on a board by pointing at them below.` : "No boards are listed: add what you have, or may buy, and the table is laid out on it."),
    make("div.scroll", {}, make("table", {}, make("caption.out", {}, "boards on the rack"), make("thead", {}, head), make("tbody", {}, ...rows))),
    make("p", {}, make("button", { type: "button", id: "add-board", onclick: add }, "add a board")),
    ...now.rack.map(board));
}

function cell(one, at, name, doc) {
  const value = one.written[name], path = `stock[${at + 1}].${name}`;
  if (name === "kind") {
    const list = make("select", { "aria-label": `kind of ${one.written.name}` }, ...["board", "sheet"].map((word) => make("option", { value: word }, word)));
    list.value = value || "board";
    list.addEventListener("change", () => change({ [path]: list.value }, path));
    return list;
  }
  const field = make(name === "name" || name === "wood" ? "input.name" : "input", { "aria-label": `${doc} of board ${at + 1}`, placeholder: name === "wood" ? one.wood : "" });
  field.defaultValue = value === undefined ? "" : value;
  field.addEventListener("change", () => change({ [path]: plain(name, field.value) }, `${doc} of ${one.written.name}`));
  return field;
}

function used(name) { const boards = now.news.boards; return boards ? boards.used[name] || 0 : "…"; }

function add() {
  const names = now.rack.map((one) => one.written.name), thick = now.held["top.thickness"].value;
  let number = now.rack.length + 1;
  while (names.includes(`board ${number}`)) { number += 1; }
  const inch = now.units === "in";
  change({ [`stock[${now.rack.length + 1}]`]: { name: `board ${number}`, length: inch ? 96 : 2400, width: inch ? 6 : 150, thickness: Number(thick) } }, `board ${number} added`);
}

/* A board with its knots: a click puts one, a click on one takes it away. In the file's own numbers, from the lower left. */
function board(one, at) {
  const size = (name) => Number(one.written[name]);
  const per = size("length") ? one.length / size("length") : 1, faults = (one.written.faults || []).map((knot) => knot.map(Number));
  const path = `stock[${at + 1}].faults`, bare = [size("length"), size("width")].every((value) => value > 0);
  if (!bare) { return make("div.board", {}, make("h3", {}, one.written.name || "board"), make("p.hint", {}, "its sizes have units of their own; write knots in an editor")); }
  const svg = draw("svg", { viewBox: `-4 -4 ${size("length") + 8} ${size("width") + 8}`, role: "group", "aria-label": `${one.written.name}, its knots` });
  svg.append(draw("rect", { class: "blank", x: 0, y: 0, width: size("length"), height: size("width") }));
  faults.forEach((knot, number) => {
    const away = () => change({ [path]: faults.length > 1 ? faults.filter((_, other) => other !== number) : null }, "a knot taken away");
    const spot = draw("circle", { class: "knot", cx: knot[0], cy: size("width") - knot[1], r: knot[2] / 2, tabindex: "0", role: "button", "aria-label": `knot at ${knot[0]}, ${knot[1]}, ${knot[2]} across: take away` });
    spot.addEventListener("click", (event) => { event.stopPropagation(); away(); });
    spot.addEventListener("keydown", (event) => { if (["Enter", " ", "Delete"].includes(event.key)) { event.preventDefault(); away(); } });
    svg.append(spot);
  });
  const across = make("input", { size: "4", inputmode: "decimal", value: wide || (per > 20 ? "1.5" : "40"), "aria-label": `knot of ${one.written.name}, how wide` });
  across.addEventListener("change", () => { wide = across.value; });
  const put = (x, y) => change({ [path]: [...(one.written.faults || []), [x, y, Number(across.value) || 40]] }, "a knot");
  svg.addEventListener("click", (event) => {
    const spot = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse()), grain = per > 20 ? 16 : 1;
    put(Math.round(Math.min(Math.max(spot.x, 0), size("length")) * grain) / grain, Math.round(Math.min(Math.max(size("width") - spot.y, 0), size("width")) * grain) / grain);
  });
  const x = make("input", { size: "5", inputmode: "decimal", "aria-label": `knot of ${one.written.name}, from the left end` }), y = make("input", { size: "5", inputmode: "decimal", "aria-label": `knot of ${one.written.name}, from the lower edge` });
  const there = () => {
    const empty = [x, y].find((field) => !field.value.trim());
    if (empty) { empty.focus(); say("How far from the left, and from below?", true); return; }
    put(Number(x.value), Number(y.value));
    x.value = y.value = "";
  };
  return make("div.board", {}, make("h3", {}, one.written.name || "board"),
    make("div.scroll", { tabindex: "0", role: "region", "aria-label": `${one.written.name}, from end to end` }, svg),
    make("p.row", {}, make("label", {}, "next knot, across", across), make("label", {}, "from the left", x), make("label", {}, "from below", y),
      make("button", { type: "button", onclick: there }, "put it there")));
}

export function layouts() {
  const boards = now.news.boards, box = document.getElementById("layouts");
  document.getElementById("laying").textContent = boards || !now.built ? "" : "being laid out";
  if (!boards) { return; }
  box.replaceChildren(
    ...boards.found.map((one) => make(`div.finding.${one.level}`, {}, make("p", {}, make("span.level", {}, one.level), one.whole, " ", one.do || one.why))),
    ...boards.sheets.map((one) => make("div.board", {}, make("h3", {}, `${one.stock} ${one.number}, ${figure(one.used * 100, 0)} % becomes blanks`), drawing(one.svg),
      Object.keys(one.key).length ? make("p.hint", {}, Object.entries(one.key).map(([letter, code]) => `${letter} ${code}`).join("; ")) : null)));
}

on("boards", () => { layouts(); document.querySelectorAll("#rack tbody tr").forEach((row, at) => { if (now.rack[at]) { row.querySelector("td.figure").textContent = used(now.rack[at].written.name); } }); });
on("laying", (news) => { if (!now.news.boards) { document.getElementById("laying").textContent = news.what; } });
