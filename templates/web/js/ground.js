// The lake under everything: water, depth tints, depth lines, banks and the tile grid, in three emphases.
"use strict";
(function () {
  const layers = [];
  let renderer = null, raised = null;
  // How thick lines are drawn: less from far away, or the lake would drown in its own ink.
  const THICKNESS = { far: 0.5, middle: 0.75, close: 1 };
  let distance = null, begun = false;

  // `look(view)` returns the style for a view, or null to hide the layer, which is made when first needed.
  function area(areas, look) {
    const rings = flat(areas);
    if (rings.length) layers.push({ make: function (options) { return lake.shape(rings, options); }, look: look });
  }

  function line(lines, look) {
    if (lines.length) layers.push({ over: true, make: function (options) { return lake.shape(lines, options); }, look: look });
  }

  // Layers whose data are read only once they are looked at: `lay` adds them, in this place among the others.
  function when(looked, lay) {
    layers.push({ looked: looked, lay: lay });
  }

  function layWanted(view) {
    for (const item of layers.splice(0)) {
      if (item.lay && item.looked(view)) item.lay();
      else layers.push(item);
    }
  }

  function fill(colour, opacity) {
    return { stroke: false, fill: true, fillColor: colour, fillOpacity: opacity === undefined ? 1 : opacity };
  }

  function pen(colour, weight, more) {
    const style = Object.assign({ stroke: true, fill: false, color: colour, weight: weight * lake.weight(), opacity: 1,
      dashArray: null, lineCap: "butt", lineJoin: "round" }, more);
    return lake.sunlit() ? Object.assign(style, { opacity: 1 }) : style;
  }

  // A mark along the bank: weight and dashes shrink together from far away.
  function mark(colour, weight, dashes, lineCap) {
    const k = THICKNESS[distance];
    const scaled = dashes ? dashes.map(function (d) { return d * k; }).join(" ") : null;
    // It is broad enough for the sun as it is.
    return pen(colour, weight * k / lake.weight(), { dashArray: scaled, lineCap: lineCap || "butt" });
  }

  function hatch(size, strength) {
    const side = size || 9, tile = document.createElement("canvas");
    tile.width = tile.height = side;
    const ctx = tile.getContext("2d");
    ctx.globalAlpha = strength || 1;
    ctx.strokeStyle = lake.colour("soft");
    ctx.lineWidth = 1.1;
    ctx.beginPath();
    for (const from of [-side, 0, side]) {
      ctx.moveTo(from, side);
      ctx.lineTo(from + side, 0);
    }
    ctx.stroke();
    return ctx.createPattern(tile, "repeat");
  }

  // Water of unknown depth where no tint can say so.
  function dashes() {
    const tile = document.createElement("canvas");
    tile.width = 14;
    tile.height = 12;
    const ctx = tile.getContext("2d");
    ctx.fillStyle = lake.colour("ink");
    for (const at of [[1, 2], [8, 8]]) ctx.fillRect(at[0], at[1], 5, 1.6);
    return ctx.createPattern(tile, "repeat");
  }

  // Ground that the level shown leaves dry: bare and dotted, as on paper.
  lake.dryPattern = function (ground) {
    const tile = document.createElement("canvas");
    tile.width = tile.height = 8;
    const ctx = tile.getContext("2d");
    ctx.fillStyle = ground || lake.colour("dry");
    ctx.fillRect(0, 0, 8, 8);
    ctx.fillStyle = lake.colour("soft");
    for (const at of [[1, 1], [5, 5]]) ctx.fillRect(at[0], at[1], 1.4, 1.4);
    return ctx.createPattern(tile, "repeat");
  };

  function water() {
    area(ATLAS.water, function (view) {
      return fill(lake.colour(view === "sure" ? "sounded" : view === "deep" ? "unsounded" : "water"));
    });
    when(function (view) { return view === "deep"; }, function () {
      for (const band of ATLAS.bands) {
        area(band.area, function (view) {
          const colour = lake.tint(band.shade);
          // A stroke of its own colour closes the seam to the next band.
          return view === "deep" && !lake.ownWater() ? Object.assign(fill(colour), { stroke: true, color: colour, weight: 1, opacity: 1 }) : null;
        });
      }
    });
    area(ATLAS.dry, function (view) {
      return view === "sure" || lake.ownWater() ? null : Object.assign(fill(lake.dryPattern()), { stroke: true, color: lake.colour("soft"), weight: 1, opacity: 1, dashArray: "2 3" });
    });
    // The water at a level that a reader sets covers the printed tints; what nobody sounded lies over it.
    layers.push({ make: lake.bedLayer, look: function (view) {
      return lake.ownWater() && view !== "sure" ? { view: view } : null;
    } });
    when(function (view) { return view !== "there"; }, unknown);
  }

  function unknown() {
    const told = ATLAS.cover.classes.length;
    for (const one of ATLAS.cover.classes) {
      area(one.area, function (view) { return view === "sure" && !lake.pictureShown() ? lake.coverLook(one.id) : null; });
    }
    area(ATLAS.unsounded, function (view) {
      if (view === "there" || view === "sure" && told) return null;
      return Object.assign(fill(lake.sunlit() ? dashes() : lake.colour("unsounded")), { stroke: true, color: lake.colour("soft"), weight: 0.8, opacity: 1 });
    });
    for (const closed of ATLAS.closed) {
      area(closed.area, function (view) {
        return view === "sure" && !told ? Object.assign(fill(hatch()), { stroke: true, color: lake.colour("soft"), weight: 1 }) : null;
      });
    }
  }

  // Where a picture of the bed that is looked at is absent, and how far it reaches.
  function pictures() {
    for (const picture of ATLAS.pictures) {
      area(picture.absent, function () { return lake.pictureShown() === picture ? fill(hatch(16, 0.5)) : null; });
      line(flat(picture.area), function () {
        return lake.pictureShown() === picture ? pen(lake.colour("ink"), 1.2, { dashArray: "8 5" }) : null;
      });
    }
  }

  function soundings() {
    line(ATLAS.passes, function (view) {
      return view === "sure" && distance !== "far" ? pen(lake.colour("deep"), 0.8 / lake.weight(), { opacity: 0.45 }) : null;
    });
    line(ATLAS.soundings, function (view) {
      return view === "sure" ? pen(lake.colour("deep"), (distance === "far" ? 1.1 : 1.6) / lake.weight(), { dashArray: "0 4", lineCap: "round" }) : null;
    });
  }

  function isobaths(major) {
    const of = function (part) {
      return flat(ATLAS.isobaths.filter(function (isobath) { return isobath.major === major; }).map(function (isobath) { return isobath[part]; }));
    };
    const look = function (view, dash) {
      const ink = function (weight, opacity) { return pen(lake.colour("deep"), weight, { opacity: opacity, dashArray: dash }); };
      if (view === "sure") return null;
      // Heavy lines leave room for few: the fine ones wait until the reader is close.
      if (lake.sunlit() && !major && distance !== "close") return null;
      if (view === "deep" && lake.water.lit) return distance === "far" ? null : pen(lake.colour("soft"), 0.6, { opacity: 0.4, dashArray: dash });
      if (view === "there") return major && distance !== "far" ? ink(0.8, 0.3) : null;
      if (distance === "far") return major ? ink(0.8, 0.75) : null;
      return ink(major ? 1.5 : 0.8, major ? 0.9 : distance === "close" ? 0.6 : 0.35);
    };
    line(of("lines"), function (view) { return lake.ownWater() ? null : look(view, null); });
    // Where its depth is in doubt the line is broken, as on paper.
    line(of("doubtful"), function (view) { return lake.ownWater() ? null : look(view, "6 4"); });
    for (const [part, dash] of [["sure", null], ["doubtful", "6 4"]]) {
      layers.push({ over: true, make: function (options) { return lake.linesLayer(major, part, options); },
        look: function (view) { return lake.ownWater() ? look(view, dash) : null; } });
    }
  }

  function grid() {
    line(flat(ATLAS.tiles.map(function (tile) { return flat(tile.area); })), function () { return pen(lake.colour("grid"), 0.9); });
  }

  function banks() {
    line(flat(ATLAS.water), function (view) {
      return pen(lake.colour(lake.asking() ? "soft" : "shore"), distance === "far" ? 1 : view === "deep" ? 2 : 1.3);
    });
    for (const state of ["well", "poorly", "near", "none"]) {
      const lines = linesOf(function (reach) { return reach.state === state; });
      for (const look of stateLooks(state)) {
        line(lines, function (view) { return view === "there" && !lake.asking() ? look() : null; });
      }
    }
    for (const part of ["full", "part", "little"]) {
      const lines = linesOf(function (reach) { return reach.share !== null && sharePart(reach.share) === part; });
      line(lines, function (view) { return view === "sure" && !lake.asking() ? shareLook(part) : null; });
    }
  }

  // Banks that fit what is asked stand out from all others; whether dotted ones fit is not known.
  const answering = [];
  function answers() {
    const looks = [["UNKNOWN", function () { return mark(lake.colour("shore"), 4, [0, 10], "round"); }],
      ["FITS", function () { return pen(lake.colour("paper"), distance === "far" ? 5.4 : 9, { lineCap: "round" }); }],
      ["FITS", function () { return pen(lake.colour("deep"), distance === "far" ? 3.4 : 5.5, { lineCap: "round" }); }]];
    for (const [answer, look] of looks) {
      const lines = function () {
        return lake.asking() ? linesOf(function (reach) { return lake.answerOf(reach) === lake.fits[answer]; }) : [];
      };
      const item = { make: function (options) { return lake.shape(lines(), options); }, look: function () { return lake.asking() ? look() : null; } };
      layers.push(item);
      answering.push([item, lines]);
    }
  }

  lake.showAnswers = function () {
    for (const [item, lines] of answering) if (item.layer) item.layer.setLines(lines());
    lake.showGround(lake.root.dataset.view);
  };

  function linesOf(chosen) {
    return flat(ATLAS.reaches.filter(chosen).map(function (reach) { return reach.lines; }));
  }

  function flat(lists) {
    return lists.flat();
  }

  // Each state has a colour of the Okabe-Ito set and a pattern, so that grey print says the same.
  function stateLooks(state) {
    const colour = function () { return lake.colour("state-" + state); };
    const edge = function () { return lake.colour("case"); };
    if (state === "none") {
      return [
        function () { return mark(edge(), 6, [0, 13], "round"); },
        function () { return mark(colour(), 3.8, [0, 13], "round"); },
      ];
    }
    if (state === "near") {
      return [function () { return mark(colour(), 5.4, [15, 4]); }];
    }
    return [
      function () { return mark(edge(), 6.6); },
      function () { return mark(colour(), 4.2, state === "poorly" ? [9, 3] : null); },
    ];
  }

  function sharePart(share) {
    return share > 0.9 ? "full" : share >= 0.5 ? "part" : "little";
  }

  function shareLook(part) {
    if (part === "full") return mark(lake.colour("deep"), 5);
    if (part === "part") return mark(lake.colour("deep"), 5, [12, 5]);
    return mark(lake.colour("deep"), 5, [0, 11], "round");
  }

  lake.sharePart = sharePart;

  lake.metresPerPixel = function (map) {
    return 40075016.686 * Math.cos(map.getCenter().lat * Math.PI / 180) / Math.pow(2, map.getZoom() + 8);
  };

  lake.distance = function (map) {
    const metres = lake.metresPerPixel(map);
    return metres > 5 ? "far" : metres > 2 ? "middle" : "close";
  };

  // Lines lie over a picture of the bed, on a canvas of their own that is made when first needed.
  function rendererOf(item) {
    const high = Boolean(item.over && lake.pictureShown());
    if (high && !raised) raised = L.canvas({ pane: "lines", padding: 0.25 });
    if (item.high !== high) item.layer = null;
    item.high = high;
    return high ? raised : renderer;
  }

  lake.showGround = function (view) {
    if (!begun) return;
    distance = lake.distance(lake.map);
    lake.showPictures(view);
    layWanted(view);
    for (const item of layers) {
      const look = item.look ? item.look(view) : null;
      if (item.layer) item.layer.remove();
      if (!look) continue;
      const own = rendererOf(item);
      item.layer = item.layer || item.make({ renderer: own, interactive: false });
      // Added anew so that the order of drawing stays the order of this file.
      item.layer.setStyle(look).addTo(lake.map);
    }
  };

  // What an address asks for is set before the map has its first view: until then nothing is drawn, or it would be twice.
  lake.startGround = function () {
    begun = true;
    lake.showGround(lake.root.dataset.view);
  };

  // Draws the same layers anew: what they show has changed, not how.
  lake.redrawGround = function () {
    for (const one of [renderer, raised]) {
      if (!one || !one._map) continue;
      one._redrawBounds = null;
      one._redraw();
    }
  };

  lake.takeMap = function (map) {
    lake.map = map;
    renderer = L.canvas({ pane: "ground", padding: 0.25 });
    water();
    pictures();
    grid();
    when(function (view) { return view === "sure"; }, soundings);
    when(function (view) { return view === "deep" || view === "there" && distance !== "far"; }, function () {
      isobaths(false);
      isobaths(true);
    });
    banks();
    answers();
    map.on("zoomend", function () {
      if (distance && lake.distance(map) !== distance) lake.showGround(lake.root.dataset.view);
    });
  };

  if (lake.still) {
    L.Map.mergeOptions({ zoomAnimation: false, fadeAnimation: false, inertia: false });
  }
})();
