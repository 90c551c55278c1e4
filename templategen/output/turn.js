// Turns the table: paints its facets nearest first kept (a depth for every pixel), then the edges that show.
// turnTable(canvas, scene) -> {turn(round, rise), pull(share), light(code), paint()}. Drag or arrow keys turn it.
function turnTable(canvas, scene) {
  'use strict';
  let round = -1.19, rise = 0.56, pulled = 0, lit = '';
  const ctx = canvas.getContext('2d');
  const style = getComputedStyle(canvas);
  const ink = name => {
    const hex = style.getPropertyValue('--d-' + name).trim() || '#888';
    const full = hex.length === 4 ? hex.replace(/[0-9a-f]/gi, c => c + c) : hex;
    return [1, 3, 5].map(k => parseInt(full.slice(k, k + 2), 16));
  };
  const word = rgb => (255 << 24 | rgb[2] << 16 | rgb[1] << 8 | rgb[0]) >>> 0;
  const between = (one, other, share) => one.map((v, k) => Math.round(v + (other[k] - v) * share));

  function corners(body, right, up, near) {
    const p = scene.solids[body.code].p, m = body.m, a = body.away, c = scene.middle, out = [];
    const flat = axis => [0, 3, 6].map(k => m[k] * axis[0] + m[k + 1] * axis[1] + m[k + 2] * axis[2]);
    const shift = axis => [0, 1, 2].reduce((s, k) => s + axis[k] * (m[9 + k] + a[k] * pulled - c[k]), 0);
    const rows = [right, up, near].map(axis => [...flat(axis), shift(axis)]);
    for (let i = 0; i < p.length; i += 3)
      out.push(rows.map(r => r[0] * p[i] + r[1] * p[i + 1] + r[2] * p[i + 2] + r[3]));
    return out;
  }

  function paint() {
    const dots = Math.min(2, window.devicePixelRatio || 1);
    const W = canvas.width = Math.round(canvas.clientWidth * dots);
    const H = canvas.height = Math.round(canvas.clientHeight * dots);
    if (!W || !H) return;
    const image = ctx.createImageData(W, H), pixels = new Uint32Array(image.data.buffer);
    const depth = new Float32Array(W * H).fill(-1e9);
    const ca = Math.cos(round), sa = Math.sin(round), ce = Math.cos(rise), se = Math.sin(rise);
    const near = [ce * ca, ce * sa, se], right = [-sa, ca, 0], up = [-se * ca, -se * sa, ce];
    const bodies = scene.bodies.map(body => [body.code, scene.solids[body.code].f, corners(body, right, up, near)]);
    // About the middle of all corners and as far as the furthest: the same from every side, so nothing jumps.
    const all = bodies.flatMap(body => body[2]);
    const mid = [0, 1, 2].map(n => all.reduce((sum, q) => sum + q[n], 0) / all.length);
    const far = all.reduce((most, q) => Math.max(most, Math.hypot(q[0] - mid[0], q[1] - mid[1], q[2] - mid[2])), 1);
    const k = 0.49 * Math.min(W, H) / far;
    for (const q of all) { q[0] = W / 2 + (q[0] - mid[0]) * k; q[1] = H / 2 - (q[1] - mid[1]) * k; }
    const tones = {plain: [ink('wood-dark'), ink('wood-light')], lit: [ink('added-dark'), ink('added-light')]};
    const lines = [];
    for (const [code, f, P] of bodies) {
      const tone = code === lit ? tones.lit : tones.plain;
      for (let i = 0; i < f.length; i += 4) {
        const A = P[f[i]], B = P[f[i + 1]], C = P[f[i + 2]];
        const area = (B[0] - A[0]) * (A[1] - C[1]) - (A[1] - B[1]) * (C[0] - A[0]);
        if (area <= 0) continue;
        const sx = k * ((B[1] - A[1]) * (C[2] - A[2]) - (B[2] - A[2]) * (C[1] - A[1]));
        const sy = k * ((B[2] - A[2]) * (C[0] - A[0]) - (B[0] - A[0]) * (C[2] - A[2]));
        const facing = area / Math.hypot(area, sx, sy), left = -sx / Math.hypot(area, sx, sy);
        fill(A, B, C, area, word(between(tone[0], tone[1], Math.min(1, Math.max(0, 0.15 + 0.75 * facing + 0.3 * left)))));
        if (f[i + 3] & 1) lines.push([A, B]);
        if (f[i + 3] & 2) lines.push([B, C]);
        if (f[i + 3] & 4) lines.push([C, A]);
      }
    }
    const black = word(ink('black')), bias = 1.5 / k + 3;
    for (const [A, B] of lines) line(A, B, black, bias);
    ctx.putImageData(image, 0, 0);

    // Row by row: each side of the facet bounds the row from the left or from the right; depth is linear along it.
    function fill(A, B, C, area, colour) {
      const top = Math.max(0, Math.ceil(Math.min(A[1], B[1], C[1])));
      const bottom = Math.min(H - 1, Math.floor(Math.max(A[1], B[1], C[1])));
      const zx = ((B[2] - A[2]) * (A[1] - C[1]) - (A[1] - B[1]) * (C[2] - A[2])) / area;
      const zy = ((B[2] - A[2]) * (C[0] - A[0]) - (B[0] - A[0]) * (C[2] - A[2])) / area;
      const sides = [[A, B], [B, C], [C, A]];
      for (let y = top; y <= bottom; y++) {
        let l = 0, r = W - 1;
        for (const [P, Q] of sides) {
          const d = Q[1] - P[1];
          if (d === 0) continue;
          const x = P[0] + (Q[0] - P[0]) * (y - P[1]) / d;
          if (d > 0) l = Math.max(l, Math.ceil(x - 1e-6)); else r = Math.min(r, Math.floor(x + 1e-6));
        }
        let z = A[2] + (l - A[0]) * zx + (y - A[1]) * zy;
        for (let x = l, at = y * W + l; x <= r; x++, at++, z += zx)
          if (z > depth[at]) { depth[at] = z; pixels[at] = colour; }
      }
    }

    function line(A, B, colour, nearer) {
      const steps = Math.ceil(Math.max(Math.abs(B[0] - A[0]), Math.abs(B[1] - A[1])));
      for (let i = 0; i <= steps; i++) {
        const s = steps ? i / steps : 0, x = Math.round(A[0] + (B[0] - A[0]) * s), y = Math.round(A[1] + (B[1] - A[1]) * s);
        if (x < 0 || y < 0 || x >= W || y >= H) continue;
        const z = A[2] + (B[2] - A[2]) * s + nearer;
        if (z < depth[y * W + x]) continue;
        pixels[y * W + x] = colour;
        if (dots > 1 && x + 1 < W && z >= depth[y * W + x + 1]) pixels[y * W + x + 1] = colour;
      }
    }
  }

  let waiting = false;
  const soon = () => { if (!waiting) { waiting = true; requestAnimationFrame(() => { waiting = false; paint(); }); } };
  const turn = (a, e) => { round = a; rise = Math.max(-1.5, Math.min(1.5, e)); soon(); };
  canvas.addEventListener('pointerdown', e => canvas.setPointerCapture(e.pointerId));
  canvas.addEventListener('pointermove', e => {
    if (e.buttons) turn(round - e.movementX / 150, rise + e.movementY / 150);
  });
  canvas.addEventListener('keydown', e => {
    const way = {ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, 0.1], ArrowDown: [0, -0.1]}[e.key];
    if (way) { e.preventDefault(); turn(round + way[0], rise + way[1]); }
  });
  paint();
  return {turn, paint: soon, pull: share => { pulled = share; soon(); }, light: code => { lit = code; soon(); }};
}
