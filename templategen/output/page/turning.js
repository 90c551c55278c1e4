/* The table as facets with a depth buffer; lengths are tenths of a millimetre. Where a browser has no WebGL the
   picture stays hidden: the drawing above it shows the same. */
function turning(box, data) {
  "use strict";
  if (!box || !data || !data.bodies) { return null; }
  var canvas = box.querySelector("canvas"), gl = canvas.getContext("webgl", { antialias: true });
  if (!gl) { return null; }
  box.hidden = false;
  var apart = box.querySelector("[data-apart]"), about = box.querySelector("[data-about]");
  var tilt = 0.5, waiting = false, lit = -1, codes = [], reach = 1, corners = [], stores = [];

  function load(scene) {
  var faces = [], lines = [];
  data = scene;
  codes = Object.keys(data.solids);
  reach = 1;
  corners = [];
  data.bodies.forEach(function (body) {
    var solid = data.solids[body.code], m = body.m, points = [], code = codes.indexOf(body.code), i, k;
    for (i = 0; i < solid.p.length; i += 3) {
      points.push([0, 1, 2].map(function (k) {
        return m[k] * solid.p[i] + m[3 + k] * solid.p[i + 1] + m[6 + k] * solid.p[i + 2] + m[9 + k] - data.middle[k];
      }));
    }
    points.forEach(function (p) {
      reach = Math.max(reach, Math.hypot(p[0], p[1], p[2]), Math.hypot(p[0] + body.away[0], p[1] + body.away[1], p[2] + body.away[2]));
    });
    for (i = 0; i < 8; i += 1) {
      corners.push([0, 1, 2].map(function (k) {
        return (i >> k & 1 ? Math.max : Math.min).apply(null, points.map(function (p) { return p[k]; }));
      }).concat(body.away));
    }
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
  stores.forEach(function (one) { gl.deleteBuffer(one.store); });
  stores = [faces, lines].map(function (values) {
    var store = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, store);
    gl.bufferData(gl.ARRAY_BUFFER, new Float32Array(values), gl.STATIC_DRAW);
    return { store: store, count: values.length / 10 };
  });
  }
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
    "attribute vec3 at, away, normal; attribute float part; uniform vec2 turn, tilt, scale; uniform float level, share, reach, lift, lit;" +
    "varying float tone, chosen; void main() { vec3 p = at + share * away;" +
    "vec3 r = vec3(turn.x * p.x - turn.y * p.y, turn.y * p.x + turn.x * p.y, p.z);" +
    "gl_Position = vec4(r.x * scale.x, (r.z * tilt.x + r.y * tilt.y - level) * scale.y, (r.y * tilt.x - r.z * tilt.y) / reach * 0.9 - lift, 1.0);" +
    "tone = abs(normal.z) > 0.7 ? (normal.z > 0.0 ? 0.0 : 2.0) : (turn.x * normal.x - turn.y * normal.y < 0.0 ? 1.0 : 2.0);" +
    "chosen = abs(part - lit) < 0.5 ? 1.0 : 0.0; }"));
  gl.attachShader(program, shader(gl.FRAGMENT_SHADER,
    "precision mediump float; varying float tone, chosen; uniform vec3 light, middle, dark, lead, ink; uniform float inked;" +
    "void main() { vec3 wood = tone < 0.5 ? light : tone < 1.5 ? middle : dark;" +
    "gl_FragColor = vec4(inked > 0.5 ? ink : chosen > 0.5 ? lead : wood, 1.0); }"));
  gl.linkProgram(program);
  if (!gl.getProgramParameter(program, gl.LINK_STATUS)) { box.hidden = true; return null; }
  gl.useProgram(program);
  gl.enable(gl.DEPTH_TEST);
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

  /* How far it reaches sideways, down and up, however it is turned. */
  function extent(share) {
    var wide = 1, low = 0, high = 0, up = Math.cos(tilt), along = Math.abs(Math.sin(tilt));
    corners.forEach(function (c) {
      var out = Math.hypot(c[0] + share * c[3], c[1] + share * c[4]), z = (c[2] + share * c[5]) * up;
      wide = Math.max(wide, out);
      low = Math.min(low, z - out * along);
      high = Math.max(high, z + out * along);
    });
    return [wide, low, high];
  }
  function draw() {
    waiting = false;
    var width = canvas.clientWidth, height = canvas.clientHeight, ratio = Math.min(2, window.devicePixelRatio || 1);
    if (!width) { return; }
    canvas.width = Math.round(width * ratio);
    canvas.height = Math.round(height * ratio);
    gl.viewport(0, 0, canvas.width, canvas.height);
    var share = apart.value / 100, turn = about.value * Math.PI / 180;
    var seen = extent(share), scale = Math.min(width / seen[0], 2 * height / (seen[2] - seen[1])) / 1.03;
    var paper = colour("--paper");
    gl.clearColor(paper[0], paper[1], paper[2], 1);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    set("turn", [Math.cos(turn), Math.sin(turn)]);
    set("tilt", [Math.cos(tilt), Math.sin(tilt)]);
    set("scale", [scale / width, scale / height]);
    set("level", [(seen[1] + seen[2]) / 2]);
    set("share", [share]);
    set("reach", [reach]);
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
    var near = event.target.closest ? event.target.closest("[data-part]") : null;
    var code = codes.indexOf(near ? near.dataset.part : "");
    if (code !== lit) { lit = code; soon(); }
  });
  window.addEventListener("resize", soon);
  load(data);
  draw();
  return { load: function (scene) { load(scene); soon(); }, soon: soon };
}
