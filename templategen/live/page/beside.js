/* Variants side by side. */
import { now, on, make, drawing, send, act, say, figure, listed, refill, t } from "./told.js";

const many = (figures, list) => (figures.found && figures.found.whole ? listed(figures.found, list).length : null);

export function variants() {
  refill(document.getElementById("variants"), ...(now.variants || []).map(card));
}

function card(one) {
  const { mass, boards } = one.figures, here = now.news;
  const rows = [
    [`${t("mass")}, kg`, mass && mass.mass, here.mass && here.mass.mass], [t("to beware of"), many(one.figures, "beware"), many(here, "beware")],
    [t("to do"), many(one.figures, "do"), many(here, "do")],
    [t("boards"), boards && boards.boards, here.boards && here.boards.boards], [t("cost of boards"), boards && boards.cost, here.boards && here.boards.cost],
    [t("hours"), boards && boards.hours, here.boards && here.boards.hours],
  ];
  const shown = (value) => (value === null || value === undefined ? "–" : figure(value, 2));
  return make("article.variant", {}, make("h3", {}, one.name), one.svg ? drawing(one.svg) : null,
    make("dl", {}, make("dt", {}, ""), make("dd", {}, t("kept")), make("dd", {}, t("now")), ...rows.flatMap(([name, kept, now_]) => [make("dt", {}, name), make("dd", {}, shown(kept)), make("dd", {}, shown(now_))])),
    make("details", {}, make("summary", {}, one.differs.length === 1 ? t("1 key differs from what stands now") : t("{count} keys differ from what stands now", { count: one.differs.length })),
      make("ul", {}, ...one.differs.slice(0, 60).map((two) => make("li", {}, `${two.key}: ${two.there === null ? "default" : JSON.stringify(two.there)}, now ${two.here === null ? "default" : JSON.stringify(two.here)}`)))),
    make("p.row", {}, make("button", { type: "button", "aria-label": `${t("take this one")}: ${one.name}`, onclick: () => act("variants/take", { number: one.number }) }, t("take this one")),
      make("a", { href: `variants/${one.number}.toml`, download: true, "aria-label": `${t("its TOML")}: ${one.name}` }, t("its TOML")),
      make("button", { type: "button", "aria-label": `${t("put away")}: ${one.name}`, onclick: () => put("variants/away", { number: one.number }, t("{name} is put away.", { name: one.name })) }, t("put away"))));
}

async function put(where, what, told) {
  try { now.variants = (await send(where, what)).variants; variants(); say(told); } catch (trouble) { say(trouble.message, true); }
}

document.getElementById("keep").addEventListener("submit", (event) => {
  event.preventDefault();
  put("variants/keep", { name: new FormData(event.target).get("name") }, t("This table is kept beside."));
  event.target.reset();
});

document.getElementById("lay").addEventListener("change", async (event) => {
  const file = event.target.files[0];
  if (!file) { return; }
  if (file.size > 1e6) { say(t("a profile is a page of text; this file is larger than 1 MB"), true); return; }
  put("variants/lay", { name: file.name.replace(/\.toml$/, ""), text: await file.text() }, t("{name} lies beside.", { name: file.name }));
  event.target.value = "";
});

on("variants", (news) => { now.variants = news; variants(); });
["boards", "found", "mass"].forEach((kind) => on(kind, variants));
