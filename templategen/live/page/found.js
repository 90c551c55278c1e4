/* What was found, what would mend it, and what the last change did to it. */
import { now, on, make, figure } from "./told.js";
import { offered, focus } from "./sizes.js";

const NAMES = { stop: "Stop", caution: "Caution", note: "Note" }, MARKS = { stop: "■", caution: "▲", note: "·" };

function same(one, other) { return one.level === other.level && one.where === other.where && one.says === other.says; }

export function found() {
  const box = document.getElementById("found"), told = now.news.found, before = now.was.found ? now.was.found.found : null;
  const going = document.getElementById("going");
  going.textContent = !told ? (now.built ? "being measured" : "") : told.whole ? "" : "order of assembly and fit are still being proved";
  if (!told) { if (!now.built) { box.replaceChildren(refusals()); } return; }
  const list = told.found, grave = list.filter((one) => one.level !== "note"), notes = list.filter((one) => one.level === "note");
  const gone = told.whole && before ? before.filter((one) => one.level !== "note" && !list.some((other) => same(one, other))) : [];
  const open = box.querySelector("details") ? box.querySelector("details").open : false;
  box.replaceChildren(
    ...(grave.length ? [] : [make("p", {}, list.some((one) => one.list !== "information") ? "No stop and no caution; read what is to be done." : told.whole ? "Nothing to settle before cutting." : "Nothing to settle so far.")]),
    ...grave.map((one) => finding(one, told.whole && before)),
    ...gone.map((one) => make("div.finding.gone", {}, `settled: ${one.where}, ${one.says}`)),
    make("details", { open }, make("summary", {}, `${notes.length} notes`), ...notes.map((one) => finding(one, null))));
}

function finding(one, before) {
  const fresh = before && !before.some((other) => same(one, other));
  const mends = (now.news.mends || []).find((other) => other.of === one.name);
  const says = [one.says, one.measured, one.wanted].filter(Boolean).join(", ");
  return make(`div.finding.${one.level}`, {},
    make("p", {}, make("span.level", {}, `${MARKS[one.level]} ${NAMES[one.level]}`), says, fresh ? make("span.fresh", {}, "new") : null),
    one.do ? make("p", {}, one.do) : null,
    one.level === "note" ? null : make("p.hint", {}, one.why, " ", where(one.where)),
    mends ? offered(mends.offers) : null);
}

function where(path) {
  return now.held[path] ? make("a", { href: "#table", onclick: (event) => { event.preventDefault(); focus(path); } }, `to ${path}`) : path;
}

function refusals() {
  const mends = (now.news.mends || []).find((one) => one.of === "");
  const box = make("div", {}, ...now.faults.map((one) => make("div.finding.stop", {},
    make("p", {}, make("span.level", {}, "■ Can't be built"), `${one.where}: ${one.found}`), make("p", {}, one.remedy), one.line ? make("p.hint", {}, `line ${one.line} of ${now.file}`) : null)));
  if (mends) { box.append(offered(mends.offers)); }
  return box;
}

/* Mass, boards, cost and findings, each beside what it was. */
export function sums() {
  const { mass, boards, found } = now.news, was = now.was, grave = (told) => told && told.whole ? told.found.filter((one) => one.level !== "note").length : null;
  const rows = [
    ["mass", mass && mass.mass, was.mass && was.mass.mass, " kg"],
    ["to settle or mind", grave(found), grave(was.found), ""],
    ["boards", boards && boards.boards, was.boards && was.boards.boards, ""],
    ["cost of boards", boards && boards.cost, was.boards && was.boards.cost, ""],
    ["hours", boards && boards.hours, was.boards && was.boards.hours, ""],
  ];
  document.getElementById("sums").replaceChildren(...rows.map(([name, value, before, unit]) => {
    const known = value !== null && value !== undefined, moved = known && before !== null && before !== undefined && before !== value;
    return make("div", {}, make("dt", {}, name), make("dd", {}, known ? figure(value, 2) + unit : now.built ? "…" : "–",
      moved ? make("small", {}, `was ${figure(before, 2)}`) : null));
  }));
}

["mass", "found", "boards", "mends"].forEach((kind) => on(kind, () => { sums(); found(); }));
