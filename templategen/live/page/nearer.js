/* How near a picture is: whole where its letters can be read so, else scrolled; drawn nearer by buttons, by keys, by two
   fingers, or by the wheel with Ctrl. */

const LEAST = 11, MOST = 12, STEP = 1.25;

function smallest(drawn) {
  return Math.min(Infinity, ...drawn.flatMap((one) => [...one.querySelectorAll("[font-size]:not(.span *)")].map((text) => Number(text.getAttribute("font-size")))));
}

/* A drawing that is as wide as its letters need to be read. */
export function readable(one) {
  one.style.minWidth = `${one.viewBox.baseVal.width * LEAST / smallest([one])}px`;
  return one;
}

/* Fits the drawings of a box, all to one scale, and hears what draws them nearer; `after` is told of every change. */
export function nearing(box, after) {
  let near = 1, fingers = null;

  function fit() {
    const drawn = [...box.querySelectorAll("svg.drawing")], room = box.clientWidth;
    if (!drawn.length || !room) { return; }
    const sizes = drawn.map((one) => one.viewBox.baseVal), widest = Math.max(...sizes.map((one) => one.width));
    const tall = drawn.length === 1 ? limit() / sizes[0].height : Infinity;
    const scale = near * Math.max(Math.min((room - 2) / widest, tall), LEAST / smallest(drawn));
    drawn.forEach((one, at) => {
      one.style.width = `${sizes[at].width * scale}px`;
      one.style.height = `${sizes[at].height * scale}px`;
    });
    after();
  }

  function limit() { return parseFloat(getComputedStyle(box).maxHeight) || window.innerHeight; }

  /* Draws it nearer about a place in the window, which stays where it is. */
  function by(times, x, y) {
    const old = near, frame = box.getBoundingClientRect();
    near = Math.min(MOST, Math.max(1, near * times));
    if (near === old) { return; }
    const left = (x === undefined ? frame.width / 2 : x - frame.left), top = (y === undefined ? frame.height / 2 : y - frame.top);
    const at = [(box.scrollLeft + left) * near / old - left, (box.scrollTop + top) * near / old - top];
    fit();
    box.scrollTo(at[0], at[1]);
  }

  function whole() { near = 1; fit(); }

  box.addEventListener("wheel", (event) => {
    if (event.ctrlKey) { event.preventDefault(); by(Math.exp(-event.deltaY / 300), event.clientX, event.clientY); }
  }, { passive: false });
  box.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey) { return; }
    if ("+=".includes(event.key)) { by(STEP); } else if (event.key === "-") { by(1 / STEP); } else if (event.key === "0") { whole(); } else { return; }
    event.preventDefault();
  });
  const spread = (event) => {
    const [one, two] = event.touches;
    return { apart: Math.hypot(one.clientX - two.clientX, one.clientY - two.clientY), x: (one.clientX + two.clientX) / 2, y: (one.clientY + two.clientY) / 2 };
  };
  box.addEventListener("touchstart", (event) => { fingers = event.touches.length === 2 ? spread(event) : null; }, { passive: true });
  box.addEventListener("touchmove", (event) => {
    if (!fingers || event.touches.length !== 2) { return; }
    event.preventDefault();
    const now_ = spread(event);
    box.scrollBy(fingers.x - now_.x, fingers.y - now_.y);
    by(now_.apart / fingers.apart, now_.x, now_.y);
    fingers = now_;
  }, { passive: false });
  box.addEventListener("touchend", () => { fingers = null; });
  new ResizeObserver(() => requestAnimationFrame(fit)).observe(box);
  return { fit, whole, nearer: () => by(STEP), farther: () => by(1 / STEP) };
}
