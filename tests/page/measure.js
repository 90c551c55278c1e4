/* Measures a page in the browser: what overlaps or is painted over, what is cut off, how small and how faint letters
   get, which words stand a letter or two beneath each other. Answers `measured(least)`, where letters of drawings have at least so many pixels. */
(function () {
  "use strict";
  window.pageErrors = [];
  window.addEventListener("error", function (event) { window.pageErrors.push(String(event.message)); });
  document.addEventListener("securitypolicyviolation", function (event) { window.pageErrors.push("fetched " + event.blockedURI); });

  /* The ink of a line of SVG text as four corners on the screen: advance width, capitals' height, descenders if any;
     and so much more all round. */
  function ink(text, more) {
    var size = parseFloat(getComputedStyle(text).fontSize), box = text.getBBox(), y = parseFloat(text.getAttribute("y"));
    var low = /[gjpqyQ(),;|]/.test(text.textContent) ? 0.2 * size : 0, high = 0.716 * size;
    var matrix = text.getScreenCTM(), inset = 0.04 * size - (more || 0);
    high += more || 0;
    low += more || 0;
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
  /* A list's head stands again in each column of paper that the list goes on in; a browser tells some of its places
     wrongly, so it is held against all else but itself. */
  function pairs(boxes, told) {
    boxes.sort(function (a, b) { return a.flat[1] - b.flat[1]; });
    for (var i = 0; i < boxes.length; i += 1) {
      for (var j = i + 1; j < boxes.length && boxes[j].flat[1] < boxes[i].flat[3]; j += 1) {
        var a = boxes[i], b = boxes[j];
        if (a.head && a.head === b.head) { continue; }
        if (b.flat[0] < a.flat[2] && a.flat[0] < b.flat[2] && overlap(a.ink, b.ink) > 0.5) { told.push([a.where, a.says, b.says]); }
      }
    }
  }
  /* Contrast of two colours as WCAG 2.2 defines it. */
  function luminance(colour) {
    var shares = colour.match(/[\d.]+/g).slice(0, 3).map(function (one) {
      return one / 255 <= 0.04045 ? one / 255 / 12.92 : Math.pow((one / 255 + 0.055) / 1.055, 2.4);
    });
    return 0.2126 * shares[0] + 0.7152 * shares[1] + 0.0722 * shares[2];
  }
  function contrast(a, b) {
    var both = [luminance(a), luminance(b)];
    return (Math.max.apply(null, both) + 0.05) / (Math.min.apply(null, both) + 0.05);
  }
  /* What letters stand on: the paper drawn round them, or what lies behind the drawing. */
  function behind(text, style) {
    if (parseFloat(style.strokeWidth) > 0 && style.stroke !== "none" && style.paintOrder.indexOf("stroke") === 0) { return style.stroke; }
    for (var one = text.ownerSVGElement; one; one = one.parentElement) {
      var colour = getComputedStyle(one).backgroundColor;
      if (!/, 0\)$/.test(colour)) { return colour; }
    }
    return "rgb(255, 255, 255)";
  }
  /* Lines, areas and paper round later words that are painted over words. */
  function painted(svg, boxes, found) {
    var words = boxes.map(function (one) { return one.text; }), first = words[0];
    if (!first) { return; }
    svg.querySelectorAll("path,line,rect,circle,ellipse,polygon,polyline").forEach(function (shape) {
      if (!(first.compareDocumentPosition(shape) & 4)) { return; }
      var r = shape.getBoundingClientRect();
      boxes.forEach(function (box) {
        if (box.text.compareDocumentPosition(shape) & 4 && r.left < box.flat[2] && r.right > box.flat[0] && r.top < box.flat[3] && r.bottom > box.flat[1]) {
          found.crossed.push([box.where, box.says]);
        }
      });
    });
    boxes.forEach(function (over, number) {
      var round = parseFloat(getComputedStyle(over.text).strokeWidth) / 2 || 0; /* less than two pixels eat no letter */
      if (!round) { return; }
      var wide = ink(over.text, round), flat = upright(wide);
      boxes.slice(0, number).forEach(function (under) {
        if (under.flat[0] < flat[2] && under.flat[2] > flat[0] && under.flat[1] < flat[3] && under.flat[3] > flat[1] && overlap(wide, under.ink) > 2) {
          found.eaten.push([over.where, under.says, over.says, Math.round(overlap(wide, under.ink) * 10) / 10]);
        }
      });
    });
  }
  function drawings(found, least) {
    document.querySelectorAll("svg").forEach(function (svg) {
      var frame = svg.getBoundingClientRect(), where = svg.getAttribute("aria-labelledby") || svg.getAttribute("class"), boxes = [];
      if (!frame.width) { return; }
      svg.querySelectorAll("text").forEach(function (text) {
        if (!text.getClientRects().length) { return; }
        var corners = ink(text), flat = upright(corners);
        var pixels = parseFloat(getComputedStyle(text).fontSize) * Math.hypot(text.getScreenCTM().a, text.getScreenCTM().b);
        if (!(pixels >= found.smallest[0])) { found.smallest = [pixels, where, text.textContent]; }
        var style = getComputedStyle(text), clear = contrast(style.fill, behind(text, style));
        if (clear < 4.5) { found.faint.push([where, text.textContent, Math.round(clear * 100) / 100]); }
        if (pixels < least) { found.tiny.push([where, text.textContent, Math.round(pixels * 10) / 10]); }
        if (flat[0] < frame.left - 0.5 || flat[2] > frame.right + 0.5 || flat[1] < frame.top - 0.5 || flat[3] > frame.bottom + 0.5) {
          found.clipped.push([where, text.textContent]);
        }
        boxes.push({ ink: corners, flat: flat, says: text.textContent, where: where, text: text });
      });
      found.letters += boxes.length;
      painted(svg, boxes, found);
      pairs(boxes, found.overlaps);
      svg.querySelectorAll("path").forEach(function (path) {
        var box = path.getBoundingClientRect();
        if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 1 || box.bottom > frame.bottom + 1) {
          found.clipped.push([where, "a line"]);
        }
      });
    });
  }
  /* What of a rectangle shows within the boxes about an element that are scrolled. */
  var boxed = new Map();
  function within(one) {
    if (!one || one === document.body) { return null; }
    if (!boxed.has(one)) { var style = getComputedStyle(one); boxed.set(one, style.overflowX !== "visible" || style.overflowY !== "visible" ? one : within(one.parentElement)); }
    return boxed.get(one);
  }
  function shown(r, parent) {
    var left = r.left, top = r.top, right = r.right, bottom = r.bottom, box = within(parent);
    for (; box; box = within(box.parentElement)) {
      var own = box.getBoundingClientRect();
      left = Math.max(left, own.left);
      right = Math.min(right, own.right);
      top = Math.max(top, own.top);
      bottom = Math.min(bottom, own.bottom);
    }
    return { left: left, top: top, right: right, bottom: bottom, width: right - left, height: bottom - top };
  }
  function words(found) {
    boxed.clear();
    var walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT), boxes = [], node, range = document.createRange();
    while ((node = walk.nextNode())) {
      var parent = node.parentElement;
      if (!node.data.trim() || parent.closest("svg,script,style,.skip,.out") || !parent.getClientRects().length) { continue; }
      range.selectNodeContents(node);
      var held = parent.closest(".scroll,.view"), head = parent.closest("thead");
      var lines = new Set(Array.from(range.getClientRects()).map(function (r) { return Math.round(r.top); })).size;
      if (lines > 2 && node.data.trim().length < 4 * lines) { found.narrow.push(node.data.trim().slice(0, 60)); }
      Array.from(range.getClientRects()).forEach(function (whole) {
        var r = shown(whole, parent), trim = r.height * 0.17;
        if (r.width < 1 || r.height <= 0) { return; }
        if (!held && (r.left < -0.5 || r.right > innerWidth + 0.5)) { found.clipped.push(["words", node.data.slice(0, 60)]); }
        boxes.push({
          ink: [[r.left, r.top + trim], [r.right, r.top + trim], [r.right, r.bottom - trim], [r.left, r.bottom - trim]],
          flat: [r.left, r.top + trim, r.right, r.bottom - trim], says: node.data.slice(0, 40), where: "words", head: head
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
  /* Once the page has answered a change of the window's size. */
  window.settled = function () {
    return new Promise(function (done) { requestAnimationFrame(function () { setTimeout(done, 50); }); });
  };
  window.measured = function (least) {
    var found = { width: innerWidth, scroll: document.documentElement.scrollWidth, height: document.documentElement.scrollHeight,
      errors: window.pageErrors, overlaps: [], clipped: [], tiny: [], crossed: [], eaten: [], faint: [], narrow: [], letters: 0, smallest: [Infinity, "", ""] };
    document.querySelectorAll("details").forEach(function (one) { one.open = true; });
    drawings(found, least || 9);
    words(found);
    stuck(found);
    var turning = document.querySelector(".turn:not([hidden])");
    found.turning = !!turning && turning.getClientRects().length > 0;
    found.requests = performance.getEntriesByType("resource").map(function (one) { return one.name; });
    found.unreached = Array.from(document.querySelectorAll(".view, .scroll")).filter(function (one) {
      return one.scrollWidth > one.clientWidth + 1 && one.tabIndex < 0 && !one.querySelector("a, input, button");
    }).map(function (one) { return one.className + " " + one.textContent.slice(0, 60); });
    found.sideways = Array.from(document.querySelectorAll(".view")).filter(function (one) { return one.scrollWidth > one.clientWidth + 1; })
      .map(function (one) { return one.querySelector("svg").getAttribute("aria-labelledby") + " " + one.scrollWidth; });
    return found;
  };
})();
