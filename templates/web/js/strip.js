// The shore pulled straight: photographs, depth and soundings along it. It is a slider: the page follows the finger.
"use strict";
(function () {
  const SVG = "http://www.w3.org/2000/svg";
  const GAP_PX = 10;
  const slider = document.querySelector(".strip-slider");
  let places = [];
  let current = 0;

  function make(name, attributes, parent, text) {
    const node = document.createElementNS(SVG, name);
    for (const key in attributes) node.setAttribute(key, attributes[key]);
    if (text !== undefined) node.textContent = text;
    if (parent) parent.appendChild(node);
    return node;
  }

  // Where each reach lies in pixels; rings stand apart by a gap.
  function lay(left, width) {
    const rings = ATLAS.rings.length;
    let total = 0;
    for (const reach of ATLAS.reaches) total += reach.to - reach.from;
    const scale = Math.max(width - left - GAP_PX * (rings - 1), 10) / (total || 1);
    let x = left, ring = 0;
    places = ATLAS.reaches.map(function (reach) {
      if (reach.ring !== ring) {
        x += GAP_PX;
        ring = reach.ring;
      }
      const place = { reach: reach, x0: x, x1: x + (reach.to - reach.from) * scale };
      x = place.x1;
      return place;
    });
  }

  // Neighbours of one kind are one piece: fewer nodes, and no hairlines between them.
  function pieces(kind) {
    const found = [];
    for (const place of places) {
      const last = found[found.length - 1], value = kind(place.reach);
      if (last && last.value === value && Math.abs(last.x1 - place.x0) < 0.01) last.x1 = place.x1;
      else found.push({ value: value, x0: place.x0, x1: place.x1 });
    }
    return found;
  }

  function draw() {
    const width = slider.clientWidth, height = slider.clientHeight;
    if (!width || !height) return;
    const tall = height > 70, left = tall ? 118 : 10, inner = width - 12;
    lay(left, inner);
    slider.replaceChildren();
    const svg = make("svg", { width: width, height: height, "aria-hidden": "true", focusable: "false" }, slider);
    const rows = tall ? { photos: [10, 15], depth: [34, 30], sure: [72, 10] } : { photos: [8, 12], depth: [23, height - 28], sure: null };
    photographs(svg, rows.photos);
    depths(svg, rows.depth);
    if (tall) {
      soundings(svg, rows.sure);
      words(svg, rows);
      ticks(svg, height - 5);
    }
    for (const name of ["veil", "fits", "unknown"]) make("path", { class: "strip-" + name }, svg);
    drawAnswers();
    make("path", { class: "strip-cursor", d: "M0 2V" + (tall ? height - 18 : height - 2) }, svg);
    mark();
  }

  // What does not fit a reader's question is veiled, what fits is marked along the upper edge; three paths for them all.
  function drawAnswers() {
    const bottom = slider.clientHeight - (slider.clientHeight > 70 ? 18 : 0), lines = { veil: "", fits: "", unknown: "" };
    for (const piece of lake.asking() ? pieces(lake.answerOf) : []) {
      const across = "H" + Math.max(piece.x1, piece.x0 + 1), box = function (high) { return "M" + piece.x0 + " 0" + across + "V" + high + "H" + piece.x0 + "Z"; };
      if (piece.value === lake.fits.FITS) lines.fits += box(5);
      else lines.veil += box(bottom);
      if (piece.value === lake.fits.UNKNOWN) lines.unknown += "M" + piece.x0 + " 2.5" + across;
    }
    for (const name in lines) if (places.length) slider.querySelector(".strip-" + name).setAttribute("d", lines[name]);
  }

  // One path for all pieces of a kind: a large lake has thousands. `looks` names a kind's class; the last lie on top.
  function boxes(svg, row, kind, looks) {
    const lines = {};
    for (const piece of pieces(kind)) {
      const from = "M" + piece.x0.toFixed(1) + " ", to = "H" + Math.max(piece.x1, piece.x0 + 0.5).toFixed(1);
      const box = from + row[0] + to + "V" + (row[0] + row[1]) + "H" + piece.x0.toFixed(1) + "Z";
      lines[piece.value] = (lines[piece.value] || "") + (piece.value === "none" ? from + (row[0] + row[1] / 2) + to : box);
    }
    for (const name in looks) if (lines[name]) make("path", { class: looks[name], d: lines[name] }, svg);
  }

  function photographs(svg, row) {
    boxes(svg, row, function (reach) { return reach.state; }, { well: "strip-well", poorly: "strip-poorly", near: "strip-near", none: "strip-bare" });
  }

  function depths(svg, row) {
    let deepest = 0;
    for (const reach of ATLAS.reaches) deepest = Math.max(deepest, reach.depth || 0);
    if (!deepest) return;
    let run = [];
    const flush = function () {
      if (run.length) {
        const top = run.map(function (p) { return p[0].toFixed(1) + " " + p[1].toFixed(1); }).join("L");
        make("path", { class: "strip-water", d: "M" + run[0][0] + " " + row[0] + "L" + top + "L" + run[run.length - 1][0] + " " + row[0] + "Z" }, svg);
        make("path", { class: "strip-bed", d: "M" + top }, svg);
      }
      run = [];
    };
    let ring = -1;
    for (const place of places) {
      if (place.reach.ring !== ring || place.reach.depth === null) flush();
      ring = place.reach.ring;
      if (place.reach.depth === null) continue;
      const y = row[0] + row[1] * place.reach.depth / deepest;
      if (!run.length) run.push([place.x0, y]);
      run.push([(place.x0 + place.x1) / 2, y], [place.x1, y]);
    }
    flush();
    for (const ringPlaces of ringEnds()) {
      make("path", { class: "strip-level", d: "M" + ringPlaces[0] + " " + row[0] + "H" + ringPlaces[1] }, svg);
    }
  }

  function ringEnds() {
    const ends = new Map();
    for (const place of places) {
      if (!ends.has(place.reach.ring)) ends.set(place.reach.ring, [place.x0, place.x1]);
      ends.get(place.reach.ring)[1] = place.x1;
    }
    return Array.from(ends.values());
  }

  function soundings(svg, row) {
    const looks = {};
    for (const part of ["full", "part", "little", "unknown"]) looks[part] = "strip-sure strip-sure-" + part;
    boxes(svg, row, function (reach) { return reach.share === null ? "unknown" : lake.sharePart(reach.share); }, looks);
  }

  function words(svg, rows) {
    make("text", { class: "strip-word", x: 16, y: rows.photos[0] + 12 }, svg, lake.word("script-strip-photographs"));
    make("text", { class: "strip-word", x: 16, y: rows.depth[0] + 18 }, svg, ATLAS.offBank);
    make("text", { class: "strip-word", x: 16, y: rows.sure[0] + 9 }, svg, lake.word("script-strip-soundings"));
  }

  function ticks(svg, y) {
    const step = niceStep(), taken = [];
    // Islands first: their names are worth more than another kilometre.
    for (const place of places) {
      const ring = ATLAS.rings[place.reach.ring];
      if (ring.island && place.reach.from < 1) letter(svg, taken, place.x0, y, ring.name || lake.word("script-strip-island"));
    }
    for (const place of places) {
      const at = Math.ceil(place.reach.from / step.metres - 1e-6) * step.metres;
      if (at >= place.reach.to || ATLAS.rings[place.reach.ring].island) continue;
      const x = place.x0 + (at - place.reach.from) / (place.reach.to - place.reach.from) * (place.x1 - place.x0);
      letter(svg, taken, x, y, at ? lake.length(Number((at / step.unit).toFixed(1)), step.name) : "0");
    }
  }

  // Writes a word where it has room, moved in from the right edge if need be; not at all where it would touch another.
  function letter(svg, taken, x, y, text) {
    const node = make("text", { class: "strip-tick", x: x, y: y }, svg, text);
    const width = node.getComputedTextLength(), from = Math.min(x, slider.clientWidth - 12 - width);
    if (taken.some(function (t) { return from < t[1] + 8 && from + width > t[0] - 8; })) return node.remove();
    node.setAttribute("x", from);
    taken.push([from, from + width]);
  }

  function niceStep() {
    const unit = ATLAS.imperial ? 1609.344 : 1000, name = ATLAS.imperial ? "miles" : "kilometres";
    const metresPerPx = places.length ? (places[0].reach.to - places[0].reach.from) / (places[0].x1 - places[0].x0) : 1;
    const steps = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100];
    const fit = steps.find(function (s) { return s * unit / metresPerPx > 70; }) || 100;
    return { metres: fit * unit, unit: unit, name: name };
  }

  function mark() {
    const cursor = slider.querySelector(".strip-cursor"), place = places[current];
    if (!cursor || !place) return;
    cursor.setAttribute("transform", "translate(" + ((place.x0 + place.x1) / 2).toFixed(1) + " 0)");
    cursor.classList.toggle("chosen", Boolean((lake.chosen.reaches || []).length));
  }

  function say(reach) {
    slider.setAttribute("aria-valuenow", reach.index + 1);
    const page = reach.pages.length ? lake.word("script-strip-page", { page: reach.pages[0] })
      : lake.word(lake.isShown(reach) ? "script-strip-no-own-page" : "script-strip-no-photograph");
    slider.setAttribute("aria-valuetext", lake.word("script-strip-reach", { reach: reach.id, name: reach.name, page: page }) + lake.answerWords(reach));
  }

  lake.markStrip = function (reachId) {
    const reach = lake.reachById.get(reachId);
    if (!reach) return mark();
    current = reach.index;
    say(reach);
    mark();
  };

  function reachAt(clientX) {
    const x = clientX - slider.getBoundingClientRect().left;
    let best = 0, least = Infinity;
    places.forEach(function (place, i) {
      const away = Math.max(place.x0 - x, x - place.x1, 0);
      if (away < least) {
        least = away;
        best = i;
      }
    });
    return best;
  }

  function go(index) {
    current = Math.min(Math.max(index, 0), ATLAS.reaches.length - 1);
    const reach = ATLAS.reaches[current];
    lake.go(lake.anchor("reach", reach.id), { replace: true, focus: false });
  }

  lake.drawStrip = draw;
  lake.drawStripAnswers = drawAnswers;

  lake.startStrip = function () {
    new ResizeObserver(draw).observe(slider);
    slider.addEventListener("pointerdown", function (event) {
      slider.setPointerCapture(event.pointerId);
      history.pushState(null, "", location.href);
      go(reachAt(event.clientX));
    });
    slider.addEventListener("pointermove", function (event) {
      if (!slider.hasPointerCapture(event.pointerId)) return;
      const index = reachAt(event.clientX);
      if (index !== current) go(index);
    });
    slider.addEventListener("keydown", function (event) {
      const steps = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, PageDown: -10, PageUp: 10,
        Home: -ATLAS.reaches.length, End: ATLAS.reaches.length };
      if (!(event.key in steps)) return;
      event.preventDefault();
      event.stopPropagation();
      go(current + steps[event.key]);
    });
  };
})();
