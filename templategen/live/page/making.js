/* Make the packet, follow it, stop it, look at it. */
import { now, on, make, send, say, words, figure, verdict, t } from "./told.js";

const begin = document.getElementById("begin"), stop = document.getElementById("stop"), bar = document.getElementById("progress"), doing = document.getElementById("doing");
let folder = "";

/* Who stands on what may be pressed no longer stands on the other. */
export function making(on_) {
  const standing = document.activeElement;
  begin.disabled = on_;
  stop.disabled = !on_;
  bar.hidden = !on_;
  if ([begin, stop].includes(standing) && standing.disabled) { (on_ ? stop : begin).focus(); }
}

export async function started(where, what) {
  try {
    const answer = await send(where, what);
    folder = answer.folder;
    location.hash = "#making";
    making(true);
    stop.focus();
    doing.textContent = "";
    say(answer.measured ? t("What was measured stands in {file}.", { file: answer.measured }) : "");
  } catch (trouble) { say(trouble.message, true); }
}

document.getElementById("make").addEventListener("submit", (event) => {
  event.preventDefault();
  const given = new FormData(event.target);
  started("make", { folder: given.get("folder"), effort: Number(given.get("effort")) || null });
});
stop.addEventListener("click", () => send("stop", {}).catch((trouble) => say(trouble.message, true)));

on("making", (news) => { making(true); bar.value = news.done; doing.textContent = `${news.what}, ${figure(news.done * 100, 0)} %`; });
on("stopped", () => { making(false); begin.focus(); doing.textContent = t("Stopped; the folder is as it was."); });
on("refused", (news) => { if (Array.isArray(news)) { making(false); doing.textContent = `${t("Nothing was written")}: ${words(news)}`; } });
on("trouble", (news) => { making(false); doing.textContent = news; });
on("end", (code) => { if (code) { making(false); doing.textContent = t("It ended before it was done; nothing was written."); } });
on("made", (news) => {
  making(false);
  const name = news.folder || folder;
  doing.textContent = `${t("{files} files, {size} MB, in {folder}", { files: news.files, size: figure(news.bytes / 1e6), folder: name })}. ${verdict(news)}.`;
  const path = `packet/${encodeURIComponent(name)}/index.html`;
  document.getElementById("packet").replaceChildren(make("p.row", {}, make("a", { href: path, target: "_blank", rel: "noopener" }, t("open the packet by itself")),
    make("a", { href: `archive/${encodeURIComponent(name)}.zip`, download: true }, t("take it as one archive"))),
    make("iframe", { src: path, title: t("the packet") }));
  if (document.activeElement === begin) { document.querySelector("#packet a").focus(); }
});
