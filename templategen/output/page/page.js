(function () {
  "use strict";
  var body = document.body, store = null;
  try { store = window.localStorage; store.getItem("x"); } catch (none) { store = null; }
  var key = "packet " + body.dataset.key;
  function kept() {
    try { return JSON.parse(store.getItem(key)) || {}; } catch (none) { return {}; }
  }
  function keep() {
    try { if (store) { store.setItem(key, JSON.stringify(done)); } } catch (full) { store = null; }
  }
  function all(what, within) { return Array.from((within || document).querySelectorAll(what)); }
  var done = store ? kept() : {}, place = done["at"];
  all("input[data-tick]").forEach(function (box) {
    box.checked = done[box.dataset.tick] === true;
    box.addEventListener("change", function () {
      if (box.checked) { done[box.dataset.tick] = true; } else { delete done[box.dataset.tick]; }
      keep();
      ahead();
    });
  });

  /* What is done of the plan, and what comes next. */
  function ahead() {
    var rows = all("#work-order tbody tr"), next = rows.find(function (row) { return !row.querySelector("input").checked; });
    var line = document.querySelector(".next"), link = line.querySelector("a"), ticked = line.querySelector("button");
    if (!rows.length) { return []; }
    var count = rows.filter(function (row) { return row.querySelector("input").checked; }).length;
    line.hidden = false;
    line.querySelector("[data-told]").textContent = count + " " + line.dataset.many + " " + rows.length + " " + line.dataset.done + (next ? "; " + line.dataset.nextIs + ":" : "");
    link.hidden = ticked.hidden = !next;
    if (next) {
      var to = next.querySelector("a");
      link.textContent = next.cells[1].textContent + " " + next.cells[3].textContent;
      ticked.setAttribute("aria-label", ticked.textContent + ": " + link.textContent);
      ticked.onclick = function () { next.querySelector("input").click(); };
      link.href = to ? to.getAttribute("href") : "#work-day-" + next.cells[2].textContent;
    }
    return next ? rows.filter(function (row) { return row.cells[2].textContent === next.cells[2].textContent; }) : [];
  }
  ahead();

  /* One stop of the keyboard for all ticks, links and pictures of a chapter that are shown, and one for each picture
     that must be scrolled to be seen whole; arrows lead from one to the next. */
  function wider(one) { return one.scrollWidth > one.clientWidth + 1; }
  var rests = all("section").map(function (section) {
    var every = all("input[data-tick],td a,.view", section).filter(function (one) { return !one.matches(".rulers"); }), now = every[0];
    function shown() { return every.filter(function (one) { return !one.closest("article").hidden; }); }
    /* The first stop within a place is the chapter's; without one, that which was, as long as it is shown. */
    function rest(within) {
      var stops = shown(), first = within && stops.find(function (one) { return within.contains(one); });
      now = first || (stops.indexOf(now) >= 0 ? now : stops[0]);
      every.forEach(function (one) { one.tabIndex = one === now || one.matches(".view") && wider(one) ? 0 : -1; });
    }
    section.addEventListener("focusin", function (event) { if (every.indexOf(event.target) >= 0) { rest(event.target); } });
    section.addEventListener("keydown", function (event) {
      var stops = shown(), at = stops.indexOf(event.target), step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
      if (at >= 0 && event.key === "Enter" && event.target.matches(".view")) { enlarge(event.target.querySelector("svg")); }
      if (at < 0 || !stops[at + step] || /Left|Right/.test(event.key) && wider(event.target)) { return; }
      stops[at + step].focus();
      event.preventDefault();
    });
    return rest;
  });
  function rested(within) { rests.forEach(function (rest) { rest(within); }); }
  var nav = document.querySelector("nav"), contents = nav.querySelector(".contents"), narrow = window.matchMedia("(max-width:61.99rem)");
  var over = 0;
  function held() {
    over = narrow.matches && getComputedStyle(nav).position === "sticky" ? nav.offsetHeight : 0;
    document.documentElement.style.setProperty("--over", over + "px"); /* what is led to stands clear of the contents */
    all(".scroll,.rulers").forEach(function (one) {
      if (wider(one)) { one.tabIndex = 0; } else { one.removeAttribute("tabindex"); }
    });
    rested();
  }
  if (narrow.matches) { contents.open = false; }
  contents.addEventListener("click", function (event) { if (narrow.matches && event.target.closest("a")) { contents.open = false; held(); } });
  contents.addEventListener("toggle", held);
  held();
  window.addEventListener("resize", held);

  /* Where one is: the last sheet whose head, or whose chapter's head, has passed the upper third. */
  var tools = document.querySelector(".tools"), find = tools.querySelector("[data-find]"), here = null, busy = false;
  var sheets = all("article");
  function look() {
    var found = sheets[0], third = over + (window.innerHeight - over) / 3;
    busy = false;
    sheets.some(function (one) {
      var head = one.previousElementSibling ? one : one.closest("section");
      if (one.hidden) { return false; }
      if (head.getBoundingClientRect().top > third) { return true; }
      found = one;
      return false;
    });
    if (found) { stand(found); }
  }
  function stand(sheet) {
    if (sheet === here) { return; }
    here = sheet;
    all("nav li a").forEach(function (link) {
      if (link.hash === "#" + here.closest("section").id) { link.setAttribute("aria-current", "true"); } else { link.removeAttribute("aria-current"); }
    });
    done.at = here.id;
    keep();
  }
  /* Whoever comes back stands where they were, with the keyboard too; so does whoever follows a link. */
  function linked() { return document.getElementById(window.location.hash.slice(1)); }
  var loads = window.performance.getEntriesByType("navigation")[0], back = document.getElementById(place);
  if (back && (!linked() || loads && loads.type === "reload")) {
    back.tabIndex = -1;
    back.focus();
    back.scrollIntoView();
    rested(back);
  } else { rested(linked()); }
  window.addEventListener("hashchange", function () { rested(linked()); });

  /* Escape leads from a sheet to what may be done with it, and back to where one was. */
  var left = null;
  document.addEventListener("keydown", function (event) {
    var sheet = event.target.closest("article");
    if (event.key !== "Escape" || dialog.open || event.target.matches("select")) { return; }
    if (event.target === find && find.value) {
      find.value = "";
      find.dispatchEvent(new Event("input"));
      event.preventDefault();
    } else if (sheet) {
      left = event.target;
      contents.open = contents.open && !narrow.matches;
      held();
      stand(sheet);
      find.focus({ preventScroll: true });
    } else if (left && nav.contains(event.target) && !left.closest("article").hidden) { left.focus({ preventScroll: true }); }
  });
  look();
  document.addEventListener("scroll", function () { if (!busy) { busy = true; window.requestAnimationFrame(look); } }, { passive: true });
  tools.hidden = false;
  find.addEventListener("input", function () {
    var words = find.value.trim().toLowerCase().split(/\s+/).filter(Boolean), count = 0;
    sheets.forEach(function (one) {
      var text = words.length ? one.textContent.toLowerCase() : "";
      one.hidden = !words.every(function (word) { return text.indexOf(word) >= 0; });
      count += one.hidden ? 0 : 1;
    });
    all("section").forEach(function (one) { one.hidden = !one.querySelector("article:not([hidden])"); });
    rested();
    var told = tools.querySelector("[data-found]");
    told.textContent = words.length ? count + " " + told.dataset.found : "";
    if (words.length && count && (over || !narrow.matches)) { sheets.find(function (one) { return !one.hidden; }).scrollIntoView(); }
  });
  tools.querySelector("[data-go]").addEventListener("click", function () {
    var what = tools.querySelector("[data-print]").value, chosen = [];
    if (what === "sheet") { chosen = [here]; }
    if (what === "section") { chosen = all("article", here.closest("section")); }
    if (what === "day") {
      ahead().forEach(function (row) {
        chosen.push(document.getElementById("work-day-" + row.cells[2].textContent));
        all("a", row).forEach(function (link) { chosen.push(document.getElementById(link.hash.slice(1))); });
      });
      var needed = chosen.map(function (one) { return one && one.dataset.needs || ""; }).join(" ").split(" ");
      sheets.forEach(function (one) {
        var held = (one.dataset.holds || "").split(" ").filter(Boolean);
        if (held.some(function (name) { return needed.indexOf(name) >= 0; })) { chosen.push(one); }
      }); /* jigs that are made or worked with, layouts of the boards that are sawn */
    }
    chosen.slice().forEach(function (one) {
      while (one && one.closest("#machines") && one.id.indexOf("machines-at-") !== 0) { one = one.previousElementSibling; }
      chosen.push(one); /* what a machine asks of everybody goes with each of its set-ups */
    });
    if (what) { body.dataset.print = what; } else { delete body.dataset.print; }
    sheets.forEach(function (one) { one.classList.toggle("chosen", chosen.indexOf(one) >= 0); });
    window.print();
  });
  window.addEventListener("afterprint", function () { delete body.dataset.print; held(); });

  /* A picture by itself: whole at first, then as large as it is drawn with two fingers or the wheel. */
  var dialog = document.querySelector("dialog"), stage = dialog.querySelector(".stage"), view = null, whole = null, fingers = {};
  document.addEventListener("click", function (event) {
    var svg = event.target.closest ? event.target.closest(".view svg.drawing") : null;
    if (svg) { enlarge(svg); }
  });
  function enlarge(svg) {
    var copy = svg.cloneNode(true);
    all("[id]", copy).forEach(function (one) { one.removeAttribute("id"); });
    stage.replaceChildren(copy);
    whole = svg.getAttribute("viewBox").split(" ").map(Number);
    view = whole.slice();
    fingers = {};
    dialog.showModal();
  }
  function frame() { stage.firstChild.setAttribute("viewBox", view.join(" ")); }
  function unit() { return Math.max(view[2] / stage.clientWidth, view[3] / stage.clientHeight); }
  function zoom(by, x, y) {
    var box = stage.getBoundingClientRect(), u = unit(), wide = Math.min(whole[2] * 1.5, Math.max(whole[2] / 40, view[2] * by));
    var cx = view[0] + view[2] / 2 + (x - box.left - box.width / 2) * u, cy = view[1] + view[3] / 2 + (y - box.top - box.height / 2) * u;
    by = wide / view[2];
    view = [cx + (view[0] - cx) * by, cy + (view[1] - cy) * by, wide, view[3] * by];
    frame();
  }
  stage.addEventListener("wheel", function (event) { zoom(event.deltaY > 0 ? 1.15 : 1 / 1.15, event.clientX, event.clientY); event.preventDefault(); }, { passive: false });
  stage.addEventListener("pointerdown", function (event) { fingers[event.pointerId] = event; stage.setPointerCapture(event.pointerId); });
  stage.addEventListener("pointermove", function (event) {
    var last = fingers[event.pointerId], others = Object.keys(fingers).filter(function (id) { return id !== String(event.pointerId); });
    if (!last) { return; }
    if (others.length) {
      var fixed = fingers[others[0]];
      zoom(Math.hypot(last.clientX - fixed.clientX, last.clientY - fixed.clientY) / Math.max(1, Math.hypot(event.clientX - fixed.clientX, event.clientY - fixed.clientY)), fixed.clientX, fixed.clientY);
    } else {
      view[0] -= (event.clientX - last.clientX) * unit();
      view[1] -= (event.clientY - last.clientY) * unit();
      frame();
    }
    fingers[event.pointerId] = event;
  });
  ["pointerup", "pointercancel"].forEach(function (name) { stage.addEventListener(name, function (event) { delete fingers[event.pointerId]; }); });
  dialog.addEventListener("keydown", function (event) {
    var box = stage.getBoundingClientRect(), by = { "+": 1 / 1.3, "-": 1.3 }[event.key], move = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
    if (by) { zoom(by, box.left + box.width / 2, box.top + box.height / 2); }
    if (move) { view[0] += move[0] * view[2] / 10; view[1] += move[1] * view[3] / 10; frame(); event.preventDefault(); }
  });

  var shown = [];
  function light(code) {
    shown.forEach(function (one) { one.classList.remove("lit"); });
    shown = [];
    if (!code) { return; }
    document.querySelectorAll("svg [data-part], tr[data-part]").forEach(function (one) {
      if (one.dataset.part === code) { one.classList.add("lit"); shown.push(one); }
    });
  }
  function partOf(target) {
    var near = target.closest ? target.closest("svg [data-part], tr[data-part]") : null;
    return near ? near.dataset.part : "";
  }
  document.addEventListener("pointerover", function (event) { light(partOf(event.target)); });
  document.addEventListener("focusin", function (event) { light(partOf(event.target)); });

  var scene = null;
  try { scene = JSON.parse(document.getElementById("scene").textContent); } catch (none) { scene = null; }
  turning(document.querySelector(".turn"), scene);
})();
