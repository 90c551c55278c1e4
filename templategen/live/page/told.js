/* How the page speaks with the server, and what every part of it shares. */

export const me = Array.from(crypto.getRandomValues(new Uint32Array(2)), (one) => one.toString(36)).join("");

/* What stands in the file, and what is shown of it. */
export const now = { revision: 0, form: null, held: {}, rack: [], parts: [], news: {}, was: {}, view: "above", part: "", units: "mm" };

const WORDS = JSON.parse(document.getElementById("words").textContent);

/* A text of the catalogue in the table's language, with its fields. */
export function t(text, fields) { return (WORDS[text] || text).replace(/\{(\w+)\}/g, (_, name) => fields[name]); }

const hearers = {};

export function on(kind, hear) { (hearers[kind] = hearers[kind] || []).push(hear); }

export function tell(kind, news) { (hearers[kind] || []).forEach((hear) => hear(news)); }

export async function ask(where) { return taken(await fetched(where, { headers: { Accept: "application/json" } })); }

export async function send(where, what) {
  const body = JSON.stringify({ revision: now.revision, view: now.view, part: now.part, narrow: now.narrow, by: me, ...what });
  return taken(await fetched(where, { method: "POST", headers: { "Content-Type": "application/json" }, body }));
}

async function fetched(where, how) {
  try { return await fetch(where, how); } catch (trouble) { throw Object.assign(new Error(t("templategen doesn't answer; is it still running?")), { faults: [] }); }
}

async function taken(answer) {
  const kind = answer.headers.get("content-type") || "";
  if (kind.startsWith("application/json")) {
    const found = await answer.json();
    if (answer.ok) { return found; }
    throw Object.assign(new Error(words(found.faults || [])), { faults: found.faults || [], status: answer.status });
  }
  throw Object.assign(new Error(await answer.text()), { faults: [], status: answer.status });
}

export function words(faults) { return faults.map((one) => [one.where, one.found, one.remedy].filter(Boolean).join(": ")).join("; "); }

/* Changes go one after another, each to the revision that the one before has made. One that still waits takes up the
   next value of its key, so that a key held down is followed as fast as the table is. */
let last = Promise.resolve(), waiting = null;

export function change(changes, told) {
  const keys = Object.keys(changes).join();
  if (waiting && waiting.keys === keys) { waiting.what.changes = changes; return last; }
  const what = { changes, told }, done = act("change", what);
  waiting = { keys, what };
  return done;
}

export function act(where, what) {
  const begun = performance.now();
  waiting = null;
  last = last.then(async () => {
    if (waiting && waiting.what === what) { waiting = null; }
    try {
      const found = await send(where, what);
      if (found.offers) {
        say(t("Not written") + ": " + words(found.faults), true);
        tell("refused", { ...found, changes: what.changes });
        return found;
      }
      tell("state", found);
      tell("took", performance.now() - begun);
      return found;
    } catch (trouble) {
      say(t("Not written") + ": " + trouble.message, true);
      if (trouble.status === 409) { now.conflict = performance.now(); tell("stale"); }
      else { tell("refused", { faults: trouble.faults || [], offers: [], changes: what.changes || {} }); }
      return null;
    }
  });
  return last;
}

export function say(text, bad) {
  const line = document.getElementById("word");
  line.textContent = text;
  line.classList.toggle("bad", Boolean(bad));
}

/* An element: its name and classes, what it has, what stands in it. */
export function make(what, has, ...inside) {
  const [name, ...classes] = what.split(".");
  const made = document.createElement(name || "div");
  if (classes.length) { made.className = classes.join(" "); }
  Object.entries(has || {}).forEach(([key, value]) => {
    if (key.startsWith("on")) { made.addEventListener(key.slice(2), value); }
    else if (value === true) { made.setAttribute(key, ""); }
    else if (value !== false && value !== null && value !== undefined) { made.setAttribute(key, value); }
  });
  made.append(...inside.filter((one) => one !== null && one !== undefined));
  return made;
}

/* What stands in a box anew; who was standing in it still is, or beside it, what was typed stays, and what was open. */
export function refill(box, ...inside) {
  const all = () => [...box.querySelectorAll("input,select,button,a,summary,[tabindex]")], old = document.activeElement;
  const same = (one) => one.tagName === old.tagName && (one.getAttribute("aria-label") || one.textContent) === (old.getAttribute("aria-label") || old.textContent);
  const typed = [...box.querySelectorAll("input")].filter((one) => one.value !== one.defaultValue);
  const before = all(), at = before.indexOf(old), nth = before.filter(same).indexOf(old);
  const open = [...box.querySelectorAll("details")].map((one) => one.open);
  box.replaceChildren(...inside.filter(Boolean));
  box.querySelectorAll("details").forEach((one, number) => { one.open = Boolean(open[number]); });
  typed.forEach((one) => {
    const like = [...box.querySelectorAll("input")].find((other) => other.getAttribute("aria-label") === one.getAttribute("aria-label"));
    if (like) { like.value = one.value; }
  });
  if (at < 0) { return; }
  const after = all(), now_ = after.filter(same)[nth] || after[Math.min(at, after.length - 1)];
  (now_ || box.closest("section")).focus({ preventScroll: true });
}

const SVG = "http://www.w3.org/2000/svg";

export function draw(name, has, ...inside) {
  const made = document.createElementNS(SVG, name);
  Object.entries(has || {}).forEach(([key, value]) => {
    if (key.startsWith("on")) { made.addEventListener(key.slice(2), value); } else { made.setAttribute(key, value); }
  });
  made.append(...inside);
  return made;
}

/* A drawing of ours as an element. */
export function drawing(text) {
  const read = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return document.importNode(read, true);
}

/* Findings go in three lists, as everywhere: what to beware of, what is to be done, what only informs. */
export function listed(told, list) { return told.found.filter((one) => one.list === list); }

export function verdict(told) {
  const stops = told.found.filter((one) => one.level === "stop").length, beware = listed(told, "beware").length - stops, todo = listed(told, "do").length;
  return [stops && t("{count} to settle before cutting", { count: stops }), beware && t("{count} to beware of", { count: beware }), todo && t("{count} to do", { count: todo })].filter(Boolean).join(", ") || t("Nothing to settle before cutting");
}

export function figure(value, digits) {
  return Number(value).toLocaleString(document.documentElement.lang, { maximumFractionDigits: digits === undefined ? 1 : digits });
}
