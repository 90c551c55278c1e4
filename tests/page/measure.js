/* Measures a page in the browser: what overlaps, what is cut off, how small letters get. Answers `measured()`. */
(function () {
  "use strict";
  window.pageErrors = [];
  window.addEventListener("error", function (event) { window.pageErrors.push(String(event.message)); });
  document.addEventListener("securitypolicyviolation", function (event) { window.pageErrors.push("fetched " + event.blockedURI); });

  /* The ink of a line of SVG text as four corners on the screen: advance width, capitals' height, descenders if any. */
  function ink(text) {
    var size = parseFloat(getComputedStyle(text).fontSize), box = text.getBBox(), y = parseFloat(text.getAttribute("y"));
    var low = /[gjpqyQ(),;|]/.test(text.textContent) ? 0.2 * size : 0, high = 0.716 * size;
    var matrix = text.getScreenCTM(), inset = 0.04 * size;
    return [[box.x + inset, y - high], [box.x + box.width - inset, y - high], [box.x + box.width - inset, y + low], [box.x + inset, y + low]]
      .map(function (p) { var at = new DOMPoint(p[0], p[1]).matrixTransform(matrix); return [at.x, at.y]; });
  }
  function upright(corners) {
    var xs = corners.map(function (p) { return p[0]; }), ys = corners.map(function (p) { return p[1]; });
    return [Math.min.apply(null, xs), Math.min.apply(null, ys), Math.max.apply(null, xs), Math.max.apply(null, ys)];
  }
  /* By how much two rectangles lie on each other, pixels: the least overlap along their own sides. */
  function overlap(a, b) {
    var least = Infinity;
    [a, b].forEach(function (one) {
      [[0, 1], [1, 2]].forEach(function (side) {
        var dx = one[side[1]][0] - one[side[0]][0], dy = one[side[1]][1] - one[side[0]][1], size = Math.hypot(dx, dy) || 1;
        var spans = [a, b].map(function (own) {
          var along = own.map(function (p) { return (p[0] * dx + p[1] * dy) / size; });
          return [Math.min.apply(null, along), Math.max.apply(null, along)];
        });
        least = Math.min(least, Math.min(spans[0][1], spans[1][1]) - Math.max(spans[0][0], spans[1][0]));
      });
    });
    return least;
  }
  function pairs(boxes, told) {
    boxes.sort(function (a, b) { return a.flat[1] - b.flat[1]; });
    for (var i = 0; i < boxes.length; i += 1) {
      for (var j = i + 1; j < boxes.length && boxes[j].flat[1] < boxes[i].flat[3]; j += 1) {
        var a = boxes[i], b = boxes[j];
        if (b.flat[0] < a.flat[2] && a.flat[0] < b.flat[2] && overlap(a.ink, b.ink) > 0.5) { told.push([a.where, a.says, b.says]); }
      }
    }
  }
  function drawings(found) {
    document.querySelectorAll("svg").forEach(function (svg) {
      var frame = svg.getBoundingClientRect(), where = svg.getAttribute("aria-labelledby") || svg.getAttribute("class"), boxes = [];
      if (!frame.width) { return; }
      svg.querySelectorAll("text").forEach(function (text) {
        var corners = ink(text), flat = upright(corners), size = Math.hypot(corners[3][0] - corners[0][0], corners[3][1] - corners[0][1]);
        var pixels = parseFloat(getComputedStyle(text).fontSize) * Math.hypot(text.getScreenCTM().a, text.getScreenCTM().b);
        if (!(pixels >= found.smallest[0])) { found.smallest = [pixels, where, text.textContent]; }
        if (pixels < 9) { found.tiny.push([where, text.textContent, Math.round(pixels * 10) / 10]); }
        if (flat[0] < frame.left - 0.5 || flat[2] > frame.right + 0.5 || flat[1] < frame.top - 0.5 || flat[3] > frame.bottom + 0.5) {
          found.clipped.push([where, text.textContent]);
        }
        boxes.push({ ink: corners, flat: flat, says: text.textContent, where: where, size: size });
      });
      pairs(boxes, found.overlaps);
      if (svg.querySelector("g:has(text) ~ g path")) { found.crossed.push([where, "lines are painted over words"]); }
      svg.querySelectorAll("path").forEach(function (path) {
        var box = path.getBoundingClientRect();
        if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) {
          found.clipped.push([where, "a line"]);
        }
      });
    });
  }
  function words(found) {
    var walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), boxes = [], node, range = document.createRange();
    while ((node = walk.nextNode())) {
      var parent = node.parentElement;
      if (!node.data.trim() || parent.closest("svg,script,style,.skip") || !parent.getClientRects().length) { continue; }
      range.selectNodeContents(node);
      var held = parent.closest(".scroll,.view");
      Array.from(range.getClientRects()).forEach(function (r) {
        var trim = r.height * 0.17;
        if (r.width < 1) { return; }
        if (!held && (r.left < -0.5 || r.right > innerWidth + 0.5)) { found.clipped.push(["words", node.data.slice(0, 60)]); }
        boxes.push({
          ink: [[r.left, r.top + trim], [r.right, r.top + trim], [r.right, r.bottom - trim], [r.left, r.bottom - trim]],
          flat: [r.left, r.top + trim, r.right, r.bottom - trim], says: node.data.slice(0, 40), where: "words"
        });
      });
    }
    pairs(boxes, found.overlaps);
  }
  function stuck(found) {
    document.querySelectorAll("main *").forEach(function (one) {
      if (one.closest("svg,.scroll,.view") && !one.matches(".scroll,.view")) { return; }
      var box = one.getBoundingClientRect();
      if (box.width && box.right > innerWidth + 0.5) { found.clipped.push(["box", one.tagName + "." + one.className]); }
    });
  }
  window.measured = function () {
    var found = { width: innerWidth, scroll: document.documentElement.scrollWidth, height: document.documentElement.scrollHeight,
      errors: window.pageErrors, overlaps: [], clipped: [], tiny: [], crossed: [], smallest: [Infinity, "", ""] };
    document.querySelectorAll("details").forEach(function (one) { one.open = true; });
    drawings(found);
    words(found);
    stuck(found);
    found.turning = !!document.querySelector(".turn:not([hidden])");
    found.requests = performance.getEntriesByType("resource").map(function (one) { return one.name; });
    found.unreached = Array.from(document.querySelectorAll(".view, .scroll")).filter(function (one) {
      return one.scrollWidth > one.clientWidth + 1 && one.tabIndex < 0 && !one.querySelector("a, input, button");
    }).map(function (one) { return one.className + " " + one.textContent.slice(0, 60); });
    found.sideways = Array.from(document.querySelectorAll(".view")).filter(function (one) { return one.scrollWidth > one.clientWidth + 1; })
      .map(function (one) { return one.querySelector("svg").getAttribute("aria-labelledby") + " " + one.scrollWidth; });
    return found;
  };
})();
