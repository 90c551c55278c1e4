/* One element of each kind that holds words, in each chapter: alike in all that contrast hangs on, as are those that
   it lies in. Letters of drawings are left to `measure.js`. */
function kinds() {
  const numbers = new Map(), seen = new Map(), first = new Map();
  const LOOKS = ["color", "backgroundColor", "backgroundImage", "opacity", "fontSize", "fontWeight", "textShadow", "filter",
    "mixBlendMode", "position", "visibility", "webkitTextFillColor", "webkitTextStroke", "clipPath", "overflow"];
  function kind(one) {
    if (!one) { return 0; }
    if (!seen.has(one)) {
      const style = getComputedStyle(one), key = [kind(one.parentElement), one.tagName, ...LOOKS.map((name) => style[name])].join("|");
      if (!numbers.has(key)) { numbers.set(key, numbers.size + 1); }
      seen.set(one, numbers.get(key));
    }
    return seen.get(one);
  }
  for (const one of document.querySelectorAll("body *")) {
    const words = one.matches("input, select, textarea") ? "field" : [...one.childNodes].map((node) => node.nodeType === 3 ? node.data.trim() : "").join("");
    if (!words || one.closest("svg") || !one.getClientRects().length) { continue; }
    const own = `${kind(one)} ${one.disabled} ${one.closest("section")?.id} ${words.length > 1}`;
    if (!first.has(own)) { first.set(own, one); }
  }
  return [...first.values()];
}
