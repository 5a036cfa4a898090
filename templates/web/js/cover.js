// "Can I trust this blank?": how every part of the water was surveyed, as textures on the map and in words where tapped.
"use strict";
(function () {
  const PICTURED = ["twice", "fine", "unknown", "coarse"];
  const SHARP = 2;
  const node = document.getElementById("spot");
  let areas = null, gaps = null, cells = null;

  // Textures -----------------------------------------------------------------------------------------------------

  // Lines, so that grey print says the same: two sets cross for two passes, one for one, broken for a coarse picture;
  // open dots are depths without a picture. `size` is that of the piece that repeats, CSS pixels.
  const TEXTURES = {
    twice: { size: 8, draw: function (ctx) { slanted(ctx, 8, 1); slanted(ctx, 8, -1); } },
    fine: { size: 8, draw: function (ctx) { slanted(ctx, 8, 1); } },
    unknown: { size: 8, draw: function (ctx) { straight(ctx, [4, 0, 4, 8]); } },
    coarse: { size: 16, draw: function (ctx) { ctx.setLineDash([5, 4]); slanted(ctx, 16, 1); } },
    not_surveyable: { size: 7, quiet: true, draw: function (ctx) { straight(ctx, [0, 3.5, 7, 3.5]); } },
    depth_only: { size: 11, draw: function (ctx) { ring(ctx, 3, 3); ring(ctx, 8.5, 8.5); } },
    none: { size: 8, quiet: true, draw: function () {} },
  };

  function straight(ctx, ends) {
    ctx.beginPath();
    ctx.moveTo(ends[0], ends[1]);
    ctx.lineTo(ends[2], ends[3]);
    ctx.stroke();
  }

  function slanted(ctx, size, way) {
    for (const from of [-size, 0, size]) straight(ctx, way > 0 ? [from, size, from + size, 0] : [from, 0, from + size, size]);
  }

  function ring(ctx, x, y) {
    ctx.beginPath();
    ctx.arc(x, y, 1.5, 0, 2 * Math.PI);
    ctx.stroke();
  }

  function pattern(id) {
    const texture = TEXTURES[id], tile = document.createElement("canvas"), ctx = tile.getContext("2d");
    tile.width = tile.height = texture.size * SHARP;
    ctx.scale(SHARP, SHARP);
    ctx.fillStyle = lake.colour(texture.quiet ? "unsounded" : "sounded");
    ctx.fillRect(0, 0, texture.size, texture.size);
    ctx.strokeStyle = lake.colour(texture.quiet ? "soft" : "deep");
    ctx.lineWidth = (id === "depth_only" ? 0.8 : 0.9) * lake.weight();
    texture.draw(ctx);
    const made = ctx.createPattern(tile, "repeat");
    made.setTransform(new DOMMatrix().scale(1 / SHARP));
    return made;
  }

  lake.coverLook = function (id) {
    return { stroke: true, color: lake.colour("soft"), weight: 0.8, opacity: 1, dashArray: null, fill: true, fillColor: pattern(id), fillOpacity: 1 };
  };

  function swatch(id) {
    const canvas = document.createElement("canvas"), ctx = canvas.getContext("2d");
    canvas.className = "swatch cover-swatch";
    canvas.setAttribute("aria-hidden", "true");
    canvas.width = 34 * SHARP;
    canvas.height = 14 * SHARP;
    ctx.scale(SHARP, SHARP);
    ctx.fillStyle = pattern(id);
    ctx.fillRect(0, 0, 34, 14);
    ctx.strokeStyle = lake.colour("soft");
    ctx.strokeRect(0.5, 0.5, 33, 13);
    return canvas;
  }

  function tellKey() {
    for (const place of document.querySelectorAll("[data-cover-key]")) {
      place.replaceChildren();
      for (const one of ATLAS.cover.classes) place.append(swatch(one.id), " " + lake.word("script-cover-key", { kind: one.id }) + " ");
    }
  }

  // What is known of a place ---------------------------------------------------------------------------------------

  // The class of a place: null on land. Areas were thinned to a metre: between two of them the nearest one's is meant.
  lake.coverClassAt = function (lat, lng) {
    if (!lake.waterAt(lat, lng)) return null;
    areas = areas || ATLAS.cover.classes.map(function (one) { return { id: one.id, rings: lake.areas(one.area) }; });
    for (const off of [[0, 0], [1, 0], [-1, 0], [0, 1], [0, -1], [1, 1], [-1, -1]]) {
      const found = areas.find(function (one) { return lake.insideAreas(one.rings, lat + off[0] * 1.2e-5, lng + off[1] * 1.2e-5); });
      if (found) return found.id;
    }
    return "none";
  };

  function gapAt(lat, lng) {
    gaps = gaps || ATLAS.cover.gaps.map(function (gap) { return { words: gap.words, rings: lake.areas(gap.area) }; });
    return gaps.find(function (gap) { return lake.insideAreas(gap.rings, lat, lng); }) || null;
  }

  // Steps came for blocks of cells, in runs over the blocks where any depth is known.
  function opened(text, grid) {
    if (!text) return null;
    const size = ATLAS.cover.block, across = Math.ceil(grid.cols / size), up = Math.ceil(grid.rows / size);
    const known = new Uint8Array(across * up), found = new Uint8Array(across * up), runs = lake.unpackNumbers(text);
    grid.depth.forEach(function (depth, at) {
      if (depth === depth) known[Math.floor(Math.floor(at / grid.cols) / size) * across + Math.floor(at % grid.cols / size)] = 1;
    });
    let run = 0, left = runs[1];
    for (let at = 0; at < found.length; at++) {
      if (!known[at]) continue;
      if (!left) {
        run += 2;
        left = runs[run + 1];
      }
      found[at] = runs[run];
      left--;
    }
    return found;
  }

  // Within what a value of the depth grid's cell lies, metres; null where that is not known.
  function within(which, lat, lng) {
    const grid = lake.grid();
    if (!grid) return null;
    cells = cells || { near: opened(ATLAS.cover.near, grid), bound: opened(ATLAS.cover.bound, grid) };
    const cell = lake.cellOfPlace(lat, lng), col = Math.round(cell[0]), row = Math.round(cell[1]), size = ATLAS.cover.block;
    if (!cells[which] || col < 0 || row < 0 || col >= grid.cols || row >= grid.rows) return null;
    const depth = grid.depth[row * grid.cols + col];
    const step = ATLAS.cover.steps[which][cells[which][Math.floor(row / size) * Math.ceil(grid.cols / size) + Math.floor(col / size)]];
    return depth === depth && step !== undefined ? step : null;
  }

  function nearestBank(at) {
    let best = null, least = Infinity;
    const wide = Math.cos(at.lat * Math.PI / 180);
    for (const reach of ATLAS.reaches) {
      for (const p of reach.points) {
        const away = Math.hypot(p[0] - at.lat, (p[1] - at.lng) * wide);
        if (away < least) {
          least = away;
          best = reach;
        }
      }
    }
    return best && { reach: best, off: least * 111195 };
  }

  // The page of a place ------------------------------------------------------------------------------------------

  lake.asksSpot = function (at) {
    return (lake.root.dataset.view === "sure" || Boolean(lake.pictureShown())) && lake.waterAt(at.lat, at.lng);
  };

  lake.spotAnchor = function (at) {
    return "spot-" + at.lat.toFixed(5) + "," + at.lng.toFixed(5);
  };

  // A number and its unit stay on one line.
  function make(name, text, className) {
    const made = document.createElement(name);
    if (className) made.className = className;
    if (text) made.textContent = text.replace(/(\d) (?=(m|km|ft|mi|ha)\b)/g, "$1\u00a0");
    return made;
  }

  function section(heading, children) {
    const made = make("section", "", "note");
    made.append(make("h3", heading));
    made.append.apply(made, children);
    return made;
  }

  function surveyWords(lat, lng) {
    const kind = lake.coverClassAt(lat, lng), gap = gapAt(lat, lng), near = within("near", lat, lng);
    const sentences = [lake.word("script-spot-class", { kind: kind, scan: ATLAS.cover.sideScan ? "yes" : "no" })];
    if (gap && (kind === "coarse" || !PICTURED.includes(kind))) sentences.push(lake.word("script-spot-why", { why: gap.words }));
    if (near !== null) sentences.push(lake.word("script-spot-near", { distance: lake.distanceWords(near) }));
    return sentences.join(" ");
  }

  function depthWords(lat, lng) {
    const depth = lake.grid() ? lake.depthAt(lat, lng, lake.water.stage) : NaN, bound = within("bound", lat, lng);
    if (depth !== depth) return lake.word("script-spot-depth-unknown");
    if (depth < 0) return lake.word("script-spot-dry");
    const facts = { depth: lake.depthWords(depth), level: lake.levelNow() };
    return bound === null ? lake.word("script-spot-depth", facts) : lake.word("script-spot-depth-bound", Object.assign(facts, { bound: lake.depthWords(bound) }));
  }

  function pictureRow(picture, at) {
    const row = make("li"), button = make("button", picture.name, "spot-picture");
    const absent = lake.pictureAbsentAt(picture, at.lat, at.lng);
    button.type = "button";
    button.addEventListener("click", function () { lake.choosePicture(picture.id); });
    row.append(absent ? make("b", picture.name) : button, " ", make("span", absent ? lake.absentWords(picture) : lake.word("script-spot-shows")));
    return row;
  }

  function fill(at) {
    const title = make("h2", lake.word("script-spot-title"));
    title.tabIndex = -1;
    title.id = "spot-title";
    const where = make("p", lake.word("script-spot-at", { lat: lake.number(at.lat, 5), lon: lake.number(at.lng, 5) }), "under");
    const bank = nearestBank(at), link = make("a", bank ? lake.word("script-spot-bank", { reach: bank.reach.id, name: bank.reach.name, distance: lake.distanceWords(bank.off) }) : "");
    if (bank) link.href = "#" + lake.anchor("reach", bank.reach.id);
    const doors = make("ul", "", "doors"), pictures = make("ul", "", "doors spot-pictures");
    doors.append(make("li"));
    doors.firstChild.append(link);
    pictures.append.apply(pictures, ATLAS.pictures.map(function (picture) { return pictureRow(picture, at); }));
    node.replaceChildren(title, where,
      section(lake.word("script-spot-surveyed"), [make("p", surveyWords(at.lat, at.lng))]),
      section(lake.word("script-spot-how-deep"), [make("p", depthWords(at.lat, at.lng))]),
      doors);
    if (ATLAS.pictures.length) node.insertBefore(section(lake.word("script-spot-pictures"), [pictures]), doors);
  }

  lake.showSpot = function (text) {
    const parts = text.split(","), at = { lat: Number(parts[0]), lng: Number(parts[1]) };
    if (!(isFinite(at.lat) && isFinite(at.lng) && parts.length === 2 && lake.waterAt(at.lat, at.lng))) return lake.showStart();
    node.hidden = false;
    lake.showPanel(node, "spot");
    lake.chosen.spot = at;
    fill(at);
    lake.say([lake.word("script-spot-title") + ".", surveyWords(at.lat, at.lng), depthWords(at.lat, at.lng)].join(" "));
    return node.querySelector("h2");
  };

  // Where it was tapped: a small cross in a ring.
  lake.onInk(function (ctx, map) {
    const at = lake.chosen.spot;
    if (!at) return;
    const p = map.latLngToLayerPoint([at.lat, at.lng]);
    for (const [colour, width] of [["paper", 5], ["ink", 2]]) {
      ctx.strokeStyle = lake.colour(colour);
      ctx.lineWidth = width * lake.weight();
      ctx.setLineDash([]);
      ctx.beginPath();
      ctx.arc(p.x, p.y, 9, 0, 2 * Math.PI);
      for (const [x, y] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        ctx.moveTo(p.x + 5 * x, p.y + 5 * y);
        ctx.lineTo(p.x + 13 * x, p.y + 13 * y);
      }
      ctx.stroke();
    }
  });

  lake.whenShown(function () {
    lake.onTheme(tellKey);
    tellKey();
  });
})();
