/* What was found, what would mend it, and what the last change did to it. */
import { now, on, make, figure, verdict, listed, refill, t } from "./told.js";
import { offered, focus } from "./sizes.js";

const MARKS = { stop: t("■ Stop"), caution: t("▲ Caution"), beware: t("● Beware"), do: t("► Do"), information: "·" };

function same(one, other) { return one.level === other.level && one.where === other.where && one.whole === other.whole; }

export function found() {
  const box = document.getElementById("found"), told = now.news.found, before = now.was.found ? now.was.found.found : null;
  const going = document.getElementById("going");
  going.textContent = !told ? (now.built ? t("being measured") : "") : told.whole ? "" : t("order of assembly and fit are still being proved");
  if (!told) { if (!now.built) { refill(box, refusals()); } return; }
  const beware = listed(told, "beware"), todo = listed(told, "do"), inform = listed(told, "information");
  const gone = told.whole && before ? before.filter((one) => one.list === "beware" && !beware.some((other) => same(one, other))) : [];
  const since = told.whole && before;
  refill(box,
    make("p", {}, verdict(told) + (told.whole ? "." : t(" so far."))),
    ...[[t("Beware"), [...beware.map((one) => finding(one, since)), ...gone.map((one) => make("div.finding.gone", {}, `${t("settled")}: ${one.where}, `, make("span", { lang: one.lang }, one.whole)))]], [t("Do this"), todo.map((one) => finding(one, since))]]
      .flatMap(([name, each]) => (each.length ? [make("h3", {}, name), ...each] : [])),
    make("details", {}, make("summary", {}, t("For information: {count} figures within limits", { count: inform.length })), ...inform.map((one) => finding(one, null))));
}

/* One of them, its value that would do as buttons. */
function finding(one, before) {
  const fresh = before && !before.some((other) => same(one, other)) ? make("span.fresh", {}, t("new")) : null;
  const mends = (now.news.mends || []).find((other) => other.of === one.name), kind = one.level === "note" ? one.list : one.level;
  const mark = make("span.level", { lang: document.documentElement.lang }, MARKS[kind]);
  if (one.list === "do") { return make("div.finding.do", { lang: one.lang }, make("p", {}, mark, one.do, fresh), make("p.hint", {}, one.whole)); }
  return make(`div.finding.${kind}`, { lang: one.lang },
    make("p", {}, mark, one.whole, fresh),
    one.do ? make("p", {}, one.do) : null,
    make("p.hint", {}, one.why, " ", where(one.where)),
    mends ? offered(mends.offers) : null);
}

function where(path) {
  return now.held[path] ? make("a", { href: "#table", onclick: (event) => { event.preventDefault(); focus(path); } }, `${t("go to")} ${path}`) : path;
}

function refusals() {
  const mends = (now.news.mends || []).find((one) => one.of === "");
  const box = make("div", {}, ...now.faults.map((one) => make("div.finding.stop", {},
    make("p", {}, make("span.level", {}, t("■ Can't be built")), `${one.where}: ${one.found}`), make("p", {}, one.remedy), one.line ? make("p.hint", {}, t("line {line} of {file}", { line: one.line, file: now.file })) : null)));
  if (mends) { box.append(offered(mends.offers)); }
  return box;
}

/* Mass, boards, cost and findings, each beside what it was. */
export function sums() {
  const { mass, boards, found } = now.news, was = now.was, many = (told, list) => (told && told.whole ? listed(told, list).length : null);
  const rows = [
    [t("mass"), mass && mass.mass, was.mass && was.mass.mass, " kg"],
    [t("to beware of"), many(found, "beware"), many(was.found, "beware"), ""],
    [t("to do"), many(found, "do"), many(was.found, "do"), ""],
    [t("boards"), boards && boards.boards, was.boards && was.boards.boards, ""],
    [t("cost of boards"), boards && boards.cost, was.boards && was.boards.cost, ""],
    [t("hours"), boards && boards.hours, was.boards && was.boards.hours, ""],
  ];
  document.getElementById("sums").replaceChildren(...rows.map(([name, value, before, unit]) => {
    const known = value !== null && value !== undefined, moved = known && before !== null && before !== undefined && before !== value;
    return make("div", {}, make("dt", {}, name), make("dd", {}, known ? figure(value, 2) + unit : now.built ? "…" : "–",
      moved ? make("small", {}, `${t("was")} ${figure(before, 2)}`) : null));
  }));
}

["mass", "found", "boards", "mends"].forEach((kind) => on(kind, () => { sums(); found(); }));
