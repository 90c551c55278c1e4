/* Sizes measured at the bench, typed beside the plan. */
import { now, on, ask, say, make, draw, drawing, refill, t } from "./told.js";
import { started } from "./making.js";

const part = document.getElementById("measured-part"), place = document.getElementById("measured-place"), sizes = document.getElementById("measured-sizes");
const ring = document.getElementById("ring"), noted = new Map();
let told = null, revision = -1;

export async function bench() {
  if (revision === now.revision) { return; }
  try { told = await ask(ring.clientWidth < 430 ? "measuring?narrow=1" : "measuring"); } catch (trouble) { say(trouble.message, true); return; }
  revision = now.revision;
  part.replaceChildren(...told.parts.map((one) => make("option", { value: one.code }, `${one.code}, ${one.name}`)));
  chosen();
}

const here = () => told.parts.find((one) => one.code === part.value);

function chosen() {
  place.replaceChildren(...here().copies.map((copy) => make("option", { value: copy.place }, String(copy.place))));
  placed();
}

function placed() {
  const one = here(), kept = noted.get(`${one.code} ${place.value}`) || {};
  sizes.replaceChildren(...one.sizes.map((size) => {
    const field = make("input", { name: size.name, inputmode: "decimal", placeholder: size.drawn, value: kept[size.name] === undefined ? "" : kept[size.name], id: `m-${size.name}` });
    return make("div.size", {}, make("label.says", { for: `m-${size.name}` }, `${size.name.replaceAll("_", " ")}: ${size.says}`), make("span.in", {}, field, size.unit));
  }));
  marked();
}

/* The copies on the plan, and what was measured so far. */
function marked() {
  const one = here(), svg = drawing(told.svg);
  svg.querySelectorAll("text").forEach((text) => { if (one.code.endsWith(text.textContent)) { text.remove(); } }); /* places stand there */
  ring.replaceChildren(svg);
  const pixel = 1 / (svg.getScreenCTM() || { a: 1 }).a;
  one.copies.forEach((copy) => {
    const spot = draw("g", { class: `place${noted.has(`${one.code} ${copy.place}`) ? " taken" : ""}${String(copy.place) === place.value ? " here" : ""}` },
      draw("circle", { cx: copy.x, cy: -copy.y, r: 14 * pixel }));
    const text = draw("text", { x: copy.x, y: -copy.y + 5 * pixel, "font-size": 14 * pixel, "text-anchor": "middle" });
    text.textContent = copy.place;
    spot.append(text);
    spot.addEventListener("click", (event) => { event.stopPropagation(); place.value = copy.place; placed(); });
    svg.append(spot);
  });
  refill(document.getElementById("noted"), ...[...noted].map(([name, values]) => make("p", {}, `${name}: ${Object.entries(values).map(([size, value]) => `${size.replaceAll("_", " ")} ${value}`).join(", ")} `,
    make("button", { type: "button", "aria-label": `${t("strike out")}: ${name}`, onclick: () => { noted.delete(name); placed(); } }, t("strike out")))));
  document.getElementById("refit").disabled = !noted.size;
}

part.addEventListener("change", () => chosen());
place.addEventListener("change", placed);
ring.addEventListener("click", (event) => {
  const near = event.target.closest("[data-part]");
  if (near && told.parts.some((one) => one.code === near.dataset.part)) { part.value = near.dataset.part; chosen(); }
});
sizes.addEventListener("change", () => {
  const values = Object.fromEntries([...sizes.querySelectorAll("input")].filter((one) => one.value.trim()).map((one) => [one.name, /^\d+(\.\d+)?$/.test(one.value.trim()) ? Number(one.value) : one.value.trim()]));
  const name = `${part.value} ${place.value}`;
  if (Object.keys(values).length) { noted.set(name, values); } else { noted.delete(name); }
  marked();
});
document.getElementById("refit").addEventListener("click", () => {
  const entries = [...noted].map(([name, values]) => { const at = name.lastIndexOf(" "); return { part: name.slice(0, at), place: Number(name.slice(at + 1)), ...values }; });
  started("refit", { entries });
});
on("chapter", (name) => { if (name === "bench") { bench(); } });
