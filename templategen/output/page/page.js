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
    var line = document.querySelector(".next"), link = line.querySelector("a");
    if (!rows.length) { return []; }
    var count = rows.filter(function (row) { return row.querySelector("input").checked; }).length;
    line.hidden = false;
    line.querySelector("[data-told]").textContent = count + " of " + rows.length + " done" + (next ? "; next:" : "");
    link.hidden = !next;
    if (next) {
      var to = next.querySelector("a");
      link.textContent = next.cells[1].textContent + " " + next.cells[3].textContent;
      link.href = to ? to.getAttribute("href") : "#work-day-" + next.cells[2].textContent;
    }
    return next ? rows.filter(function (row) { return row.cells[2].textContent === next.cells[2].textContent; }) : [];
  }
  ahead();

  /* One stop of the keyboard for all ticks, links and pictures of a chapter; arrows lead from one to the next. */
  all("section").forEach(function (section) {
    var stops = all("input[data-tick],td a,.view", section).filter(function (one) { return !one.matches(".rulers"); });
    function rest(chosen) { stops.forEach(function (one) { one.tabIndex = one === chosen ? 0 : -1; }); }
    rest(stops[0]);
    section.addEventListener("focusin", function (event) { if (stops.indexOf(event.target) >= 0) { rest(event.target); } });
    section.addEventListener("keydown", function (event) {
      var at = stops.indexOf(event.target), step = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 }[event.key];
      if (at >= 0 && event.key === "Enter" && event.target.matches(".view")) { enlarge(event.target.querySelector("svg")); }
      if (at < 0 || !step || !stops[at + step]) { return; }
      stops[at + step].focus();
      event.preventDefault();
    });
  });
  function held() {
    all(".scroll").forEach(function (one) {
      if (one.scrollWidth > one.clientWidth + 1) { one.tabIndex = 0; } else { one.removeAttribute("tabindex"); }
    });
  }
  held();
  window.addEventListener("resize", held);

  /* Where one is: the last sheet whose head has passed the upper third. */
  var tools = document.querySelector(".tools"), here = null, busy = false;
  var sheets = all("article");
  function look() {
    var found = sheets[0];
    busy = false;
    sheets.some(function (one) {
      var top = one.getBoundingClientRect().top;
      if (one.hidden) { return false; }
      if (top > window.innerHeight / 3) { return true; }
      found = one;
      return false;
    });
    if (found === here || !found) { return; }
    here = found;
    all("nav li a").forEach(function (link) {
      if (link.hash === "#" + here.closest("section").id) { link.setAttribute("aria-current", "true"); } else { link.removeAttribute("aria-current"); }
    });
    done.at = here.id;
    keep();
  }
  if (place && !window.location.hash && document.getElementById(place)) { document.getElementById(place).scrollIntoView(); }
  look();
  document.addEventListener("scroll", function () { if (!busy) { busy = true; window.requestAnimationFrame(look); } }, { passive: true });
  if (window.innerWidth < 992) { document.querySelector(".contents").open = false; }

  tools.hidden = false;
  tools.querySelector("[data-find]").addEventListener("input", function (event) {
    var words = event.target.value.trim().toLowerCase().split(/\s+/).filter(Boolean), count = 0;
    sheets.forEach(function (one) {
      var text = words.length ? one.textContent.toLowerCase() : "";
      one.hidden = !words.every(function (word) { return text.indexOf(word) >= 0; });
      count += one.hidden ? 0 : 1;
    });
    all("section").forEach(function (one) { one.hidden = !one.querySelector("article:not([hidden])"); });
    tools.querySelector("[data-found]").textContent = words.length ? count + " sheets" : "";
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
    }
    if (what) { body.dataset.print = what; } else { delete body.dataset.print; }
    sheets.forEach(function (one) { one.classList.toggle("chosen", chosen.indexOf(one) >= 0); });
    window.print();
  });
  window.addEventListener("afterprint", function () { delete body.dataset.print; });

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

  turning();

  /* The table as facets with a depth buffer; lengths are tenths of a millimetre. Where a browser has no WebGL the
     picture stays hidden: the drawing above it shows the same. */
  function turning() {
    var box = document.querySelector(".turn"), data;
    try { data = JSON.parse(document.getElementById("scene").textContent); } catch (none) { return; }
    if (!box || !data.bodies) { return; }
    var canvas = box.querySelector("canvas"), gl = canvas.getContext("webgl", { antialias: true });
    if (!gl) { return; }
    box.hidden = false;
    var apart = box.querySelector("[data-apart]"), about = box.querySelector("[data-about]");
    var tilt = 0.5, waiting = false, lit = -1, codes = Object.keys(data.solids);

    var faces = [], lines = [], reach = [1, 1];
    data.bodies.forEach(function (body) {
      var solid = data.solids[body.code], m = body.m, points = [], code = codes.indexOf(body.code), i, k;
      for (i = 0; i < solid.p.length; i += 3) {
        points.push([0, 1, 2].map(function (k) {
          return m[k] * solid.p[i] + m[3 + k] * solid.p[i + 1] + m[6 + k] * solid.p[i + 2] + m[9 + k] - data.middle[k];
        }));
      }
      points.forEach(function (p) {
        reach[0] = Math.max(reach[0], Math.hypot(p[0], p[1], p[2]));
        reach[1] = Math.max(reach[1], Math.hypot(p[0] + body.away[0], p[1] + body.away[1], p[2] + body.away[2]));
      });
      for (i = 0; i < solid.f.length; i += 4) {
        var c = [points[solid.f[i]], points[solid.f[i + 1]], points[solid.f[i + 2]]], n = normal(c);
        for (k = 0; k < 3; k += 1) {
          faces.push.apply(faces, c[k].concat(body.away, n, code));
          if (solid.f[i + 3] & (1 << k)) {
            lines.push.apply(lines, c[k].concat(body.away, n, code));
            lines.push.apply(lines, c[(k + 1) % 3].concat(body.away, n, code));
          }
        }
      }
    });
    function normal(c) {
      var u = [0, 1, 2].map(function (k) { return c[1][k] - c[0][k]; }), v = [0, 1, 2].map(function (k) { return c[2][k] - c[0][k]; });
      var n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]], size = Math.hypot(n[0], n[1], n[2]) || 1;
      return n.map(function (value) { return value / size; });
    }

    function shader(kind, text) {
      var made = gl.createShader(kind);
      gl.shaderSource(made, text);
      gl.compileShader(made);
      return made;
    }
    var program = gl.createProgram();
    gl.attachShader(program, shader(gl.VERTEX_SHADER,
      "attribute vec3 at, away, normal; attribute float part; uniform vec2 turn, tilt, scale; uniform float share, reach, lift, lit;" +
      "varying float tone, chosen; void main() { vec3 p = at + share * away;" +
      "vec3 r = vec3(turn.x * p.x - turn.y * p.y, turn.y * p.x + turn.x * p.y, p.z);" +
      "gl_Position = vec4(r.x * scale.x, (r.z * tilt.x + r.y * tilt.y) * scale.y, (r.y * tilt.x - r.z * tilt.y) / reach * 0.9 - lift, 1.0);" +
      "tone = abs(normal.z) > 0.7 ? (normal.z > 0.0 ? 0.0 : 2.0) : (turn.x * normal.x - turn.y * normal.y < 0.0 ? 1.0 : 2.0);" +
      "chosen = abs(part - lit) < 0.5 ? 1.0 : 0.0; }"));
    gl.attachShader(program, shader(gl.FRAGMENT_SHADER,
      "precision mediump float; varying float tone, chosen; uniform vec3 light, middle, dark, lead, ink; uniform float inked;" +
      "void main() { vec3 wood = tone < 0.5 ? light : tone < 1.5 ? middle : dark;" +
      "gl_FragColor = vec4(inked > 0.5 ? ink : chosen > 0.5 ? lead : wood, 1.0); }"));
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS)) { box.hidden = true; return; }
    gl.useProgram(program);
    gl.enable(gl.DEPTH_TEST);
    var stores = [faces, lines].map(function (values) {
      var store = gl.createBuffer();
      gl.bindBuffer(gl.ARRAY_BUFFER, store);
      gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(values), gl.STATIC_DRAW);
      return { store: store, count: values.length / 10 };
    });
    function set(name, values) {
      gl["uniform" + values.length + "fv"](gl.getUniformLocation(program, name), values);
    }
    function paint(one, kind) {
      gl.bindBuffer(gl.ARRAY_BUFFER, one.store);
      [["at", 3, 0], ["away", 3, 12], ["normal", 3, 24], ["part", 1, 36]].forEach(function (field) {
        var place = gl.getAttribLocation(program, field[0]);
        if (place >= 0) {
          gl.enableVertexAttribArray(place);
          gl.vertexAttribPointer(place, field[1], gl.FLOAT, false, 40, field[2]);
        }
      });
      gl.drawArrays(kind, 0, one.count);
    }
    function colour(name) {
      var text = getComputedStyle(document.documentElement).getPropertyValue(name).trim().slice(1);
      if (text.length === 3) { text = text.replace(/./g, "$&$&"); }
      return [0, 2, 4].map(function (k) { return parseInt(text.slice(k, k + 2), 16) / 255; });
    }

    function draw() {
      waiting = false;
      var width = canvas.clientWidth, height = canvas.clientHeight, ratio = Math.min(2, window.devicePixelRatio || 1);
      if (!width) { return; }
      canvas.width = Math.round(width * ratio);
      canvas.height = Math.round(height * ratio);
      gl.viewport(0, 0, canvas.width, canvas.height);
      var share = apart.value / 100, turn = about.value * Math.PI / 180;
      var far = reach[0] + (reach[1] - reach[0]) * share, scale = Math.min(width, height) / far / 1.03;
      var paper = colour("--paper");
      gl.clearColor(paper[0], paper[1], paper[2], 1);
      gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
      set("turn", [Math.cos(turn), Math.sin(turn)]);
      set("tilt", [Math.cos(tilt), Math.sin(tilt)]);
      set("scale", [scale / width, scale / height]);
      set("share", [share]);
      set("reach", [reach[1]]);
      set("lit", [lit]);
      ["light", "middle", "dark"].forEach(function (name) { set(name, colour("--d-wood-" + name)); });
      set("lead", colour("--lead"));
      set("ink", colour("--d-black"));
      set("inked", [0]);
      set("lift", [0]);
      paint(stores[0], gl.TRIANGLES);
      set("inked", [1]);
      set("lift", [0.002]);
      paint(stores[1], gl.LINES);
    }

    function soon() {
      if (!waiting) { waiting = true; window.requestAnimationFrame(draw); }
    }
    function by(right, up) {
      about.value = (Number(about.value) + right + 360) % 360;
      tilt = Math.max(-1.5, Math.min(1.5, tilt + up));
      soon();
    }
    var last = null;
    canvas.addEventListener("pointerdown", function (event) { last = event; canvas.setPointerCapture(event.pointerId); });
    canvas.addEventListener("pointermove", function (event) {
      if (!last) { return; }
      by((event.clientX - last.clientX) / 2, event.pointerType === "touch" ? 0 : (event.clientY - last.clientY) / 150);
      last = event;
    });
    ["pointerup", "pointercancel"].forEach(function (name) { canvas.addEventListener(name, function () { last = null; }); });
    canvas.addEventListener("keydown", function (event) {
      var step = { ArrowLeft: [-5, 0], ArrowRight: [5, 0], ArrowUp: [0, 0.08], ArrowDown: [0, -0.08] }[event.key];
      if (step) { by(step[0], step[1]); event.preventDefault(); }
    });
    apart.addEventListener("input", soon);
    about.addEventListener("input", soon);
    document.addEventListener("pointerover", function (event) {
      var code = codes.indexOf(partOf(event.target));
      if (code !== lit) { lit = code; soon(); }
    });
    window.addEventListener("resize", soon);
    draw();
  }
})();
