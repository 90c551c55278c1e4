/* The rack: boards in a table, knots on a picture of each, and how the parts lie on them. */
import { now, on, make, drawing, change, figure, refill, t } from "./told.js";
import { board } from "./board.js";
import { readable } from "./nearer.js";

const COLUMNS = [["name", t("name")], ["kind", t("kind")], ["wood", t("wood")], ["length", t("length")], ["width", t("width")], ["thickness", t("thickness")], ["count", t("how many")], ["price", t("price each")]];
const SIZES = ["length", "width", "thickness"], NUMBERS = [...SIZES, "count", "price"];

function plain(name, text) {
  if (!text.trim()) { return null; }
  return NUMBERS.includes(name) && /^\d+(\.\d+)?$/.test(text.trim()) ? Number(text) : text.trim();
}

export function rack() {
  const box = document.getElementById("rack");
  const rows = now.rack.map((one, at) => make("tr", {}, ...COLUMNS.map(([name, doc]) => make("td", {}, one.of ? plainly(one, name) : cell(one, at, name, doc))),
    make("td.figure", {}, String(used(one.written.name))),
    make("td", {}, one.of ? one.of : make("button", { type: "button", "aria-label": `${t("take away")}: ${one.written.name}`, onclick: () => change({ [`stock[${at + 1}]`]: null }, `${one.written.name} taken away`) }, t("take away")))));
  const shops = now.rack.length ? now.rack[0].of : "";
  const head = make("tr", {}, ...COLUMNS.map(([, doc]) => make("th", { scope: "col" }, doc)), make("th", { scope: "col" }, t("used")), make("th", { scope: "col" }, make("span.out", {}, t("take away"))));
  refill(box,
    shops ? make("p.hint", {}, t("These boards are the workshop's, from {file}. A board that you add here makes a rack of this table's own, and then that alone counts.", { file: shops })) : null,
    make("p.hint", {}, now.rack.length ? t("Sizes in {units}; “how many” left empty: as many as are needed. Put knots and other faults on a board by pointing at its picture below.", { units: now.units }) : t("No boards are listed: add what you have, or may buy, and the table is laid out on it.")),
    make("div.scroll", {}, make("table", {}, make("caption.out", {}, t("boards on the rack")), make("thead", {}, head), make("tbody", {}, ...rows))),
    make("p", {}, make("button", { type: "button", id: "add-board", onclick: add }, t("add a board"))),
    ...now.rack.map(board));
}

/* The workshop's own, whatever its units. */
function plainly(one, name) {
  const per = now.units === "in" ? 25.4 : 1, value = SIZES.includes(name) ? figure(one[name] / per, 4) : one.written[name];
  return value === undefined ? (name === "wood" ? one.wood : "") : String(value);
}

function cell(one, at, name, doc) {
  const value = one.written[name], path = `stock[${at + 1}].${name}`;
  if (name === "kind") {
    const list = make("select", { "aria-label": `kind of ${one.written.name}` }, ...["board", "sheet"].map((word) => make("option", { value: word }, t(word))));
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
  const own = now.rack.filter((one) => !one.of), names = own.map((one) => one.written.name), thick = now.held["top.thickness"].value;
  let number = own.length + 1;
  while (names.includes(`board ${number}`)) { number += 1; }
  const inch = now.units === "in";
  change({ [`stock[${own.length + 1}]`]: { name: `board ${number}`, length: inch ? 96 : 2400, width: inch ? 6 : 150, thickness: Number(thick) } }, `board ${number} added`);
}

export function layouts() {
  const boards = now.news.boards, box = document.getElementById("layouts");
  document.getElementById("laying").textContent = boards || !now.built ? "" : t("being laid out");
  if (!boards) { return; }
  refill(box,
    ...boards.found.map((one) => make(`div.finding.${one.level}`, {}, make("p", {}, make("span.level", {}, one.level), one.whole, " ", one.do || one.why))),
    ...boards.sheets.map((one) => make("div.board", {}, make("h3", {}, `${one.stock} ${one.number}, ${t("{share} % becomes blanks", { share: figure(one.used * 100, 0) })}`),
      make("div.scroll", { tabindex: "0", role: "region", "aria-label": `${one.stock} ${one.number}, as it is laid out` }, readable(drawing(one.svg))),
      Object.keys(one.key).length ? make("p.hint", {}, Object.entries(one.key).map(([letter, code]) => `${letter} ${code}`).join("; ")) : null)));
}

on("boards", () => { layouts(); document.querySelectorAll("#rack tbody tr").forEach((row, at) => { if (now.rack[at]) { row.querySelector("td.figure").textContent = used(now.rack[at].written.name); } }); });
on("laying", (news) => { if (!now.news.boards) { document.getElementById("laying").textContent = news.what; } });
