/* The page: what the server tells is shown, each kind of news by the part of the page that it belongs to. */
import { me, now, on, tell, ask, act, say, words, make, t } from "./told.js";
import { form, fill, offered } from "./sizes.js";
import { lay, show } from "./picture.js";
import { found, sums } from "./found.js";
import { rack, layouts } from "./rack.js";
import { variants } from "./beside.js";
import { making } from "./making.js";
import { bench } from "./bench.js";

const NEWS = ["mass", "found", "boards", "laying", "mends", "making", "made", "refused", "trouble", "stopped", "end", "variants"];

function take(state) {
  const anew = state.form && (!now.form || state.units !== now.units || !document.querySelector("#of-table .size"));
  Object.assign(now, state, { form: state.form || now.form });
  document.getElementById("title").textContent = state.title;
  document.title = state.title;
  document.getElementById("file").textContent = state.file;
  const make_ = document.querySelector("#make [name=folder]");
  if (!make_.value) { make_.value = state.file.replace(/\.toml$/, "") + "-packet"; }
  step("undo", state.undo, t("take back"));
  step("redo", state.redo, t("do again"));
  if (anew) { form(); } else { fill(); }
  tell("parts");
  stopped();
  found();
  sums();
  rack();
  layouts();
  variants();
}

function step(id, told, word) {
  const button = document.getElementById(id);
  const standing = document.activeElement === button;
  button.disabled = told === null || told === undefined;
  if (standing && button.disabled) { document.querySelector(".back button:not(:disabled)")?.focus(); }
  button.textContent = told ? `${word}: ${told.length > 34 ? told.slice(0, 33) + "…" : told}` : word;
}

function stopped() {
  const box = document.getElementById("stopped");
  box.hidden = now.built;
  if (now.built) { return; }
  box.replaceChildren(make("p", {}, t("These sizes make no table yet: the picture is of the last that did.")),
    make("ul", {}, ...now.faults.map((one) => make("li", {}, `${one.line ? `${t("line")} ${one.line}: ` : ""}${words([one])}`))));
}

on("state", (state) => {
  if (state.units !== now.units) { stale(); return; }
  take(state);
  lay(state.picture);
  if (location.hash === "#bench") { bench(); }
  say("");
});
on("stale", stale);

async function stale() {
  try {
    take(await ask("state"));
    await show();
  } catch (trouble) { say(trouble.message, true); }
}

function listen() {
  const heard = new EventSource("events");
  NEWS.forEach((kind) => heard.addEventListener(kind, (event) => {
    const news = JSON.parse(event.data);
    if (["mass", "found", "boards", "mends"].includes(kind)) { now.news[kind] = news; }
    if (kind === "mends" && !now.built) { stoppedOffers(news); }
    tell(kind, news);
  }));
  heard.addEventListener("revision", async (event) => {
    const news = JSON.parse(event.data);
    now.news = {};
    if (news.by !== me) {
      await stale();
      if (performance.now() - (now.conflict || -1e4) > 4000) { say(news.by ? t("Changed in another window: {what}.", { what: news.told }) : t("Changed: {what}.", { what: news.told })); }
    }
  });
  heard.addEventListener("hello", (event) => { if (JSON.parse(event.data).revision !== now.revision) { stale(); } });
  heard.addEventListener("bye", () => { heard.close(); say(t("templategen has ended; what you changed stands in the file."), true); });
  let lost = false;
  heard.addEventListener("open", () => { if (lost) { lost = false; say(""); } });
  heard.addEventListener("error", () => { lost = true; say(t("templategen doesn't answer; what you changed before stands in the file. Start it again, and open the address that it prints."), true); });
}

function stoppedOffers(news) {
  const box = document.getElementById("stopped"), own = news.find((one) => one.of === "");
  box.querySelectorAll(".offers").forEach((one) => one.remove());
  if (own) { box.append(offered(own.offers)); }
}

/* Whoever goes to a chapter stands at its beginning, so that the next key leads into it. */
function chapter(event) {
  const named = location.hash.slice(1), known = [...document.querySelectorAll("[data-of]")];
  const name = known.some((one) => one.dataset.of === named) ? named : "table";
  known.forEach((one) => { one.hidden = one.dataset.of !== name; });
  document.querySelectorAll("[data-chapter]").forEach((one) => {
    if (one.dataset.chapter === name) { one.setAttribute("aria-current", "page"); } else { one.removeAttribute("aria-current"); }
  });
  if (event && name === named) {
    window.scrollTo(0, 0);
    document.querySelector(`[data-of=${name}]`).focus({ preventScroll: true });
  }
  tell("chapter", name);
}

window.addEventListener("hashchange", chapter);
document.getElementById("undo").addEventListener("click", () => act("undo", {}));
document.getElementById("redo").addEventListener("click", () => act("redo", {}));
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== "z" || event.target.matches("input:not([type]),input[type=text]")) { return; }
  event.preventDefault();
  act(event.shiftKey ? "redo" : "undo", {});
});
document.querySelectorAll("form").forEach((one) => one.addEventListener("submit", (event) => event.preventDefault()));

take(await ask("state"));
making(now.making);
chapter();
await show();
listen();
