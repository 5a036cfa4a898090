// What is written over the lake: stations, the chosen bank, names and depth figures, on one canvas of its own.
"use strict";
(function () {
  const FACE = '"Source Sans Pro", sans-serif';
  const TURN = Math.PI / 180;
  let ink = null;
  let boxes = [];

  const others = [];

  lake.chosen = { page: null, photo: null, reaches: [], tile: null, asked: null };

  const Ink = L.Canvas.extend({
    // It holds no paths. The library clears it for them after a zoom that is not animated, and our ink would be gone.
    _updatePaths: function () {},
    _update: function () {
      if (this._map._animatingZoom && this._bounds) return;
      L.Canvas.prototype._update.call(this);
      paint(this._ctx, this._map, this._bounds);
    },
  });

  lake.addInk = function (map) {
    ink = new Ink({ pane: "ink", padding: 0.15 });
    ink.addTo(map);
  };

  // Other scripts draw on the same paper, after the stations and before the names: `draw(ctx, map, paper)`, where `paper`
  // knows places (at, holds), writes words, and keeps room or finds it free.
  lake.onInk = function (draw) {
    others.push(draw);
  };

  function drawOthers(ctx, map, bounds) {
    const box = seenBox(map, bounds);
    const paper = {
      at: function (latlng) { return at(map, latlng); },
      holds: function (lonlat) { return lonlat[0] >= box[0] && lonlat[0] <= box[2] && lonlat[1] >= box[1] && lonlat[1] <= box[3]; },
      write: function (text, x, y, colour) { write(ctx, text, x, y, colour); },
      keep: keep,
      free: free,
    };
    for (const draw of others) draw(ctx, map, paper);
  }

  lake.repaint = function () {
    if (ink && ink._map) ink._update();
  };

  function paint(ctx, map, bounds) {
    boxes = [];
    const closeness = lake.metresPerPixel(map);
    const view = lake.root.dataset.view;
    ctx.lineJoin = "round";
    chosenTile(ctx, map);
    stations(ctx, map, bounds, closeness, view);
    drawOthers(ctx, map, bounds);
    tileNames(ctx, map, bounds);
    if (view === "sure") names(ctx, map, ATLAS.closed, "soft", 12);
    names(ctx, map, ATLAS.places, "deep", 17);
    if (view === "deep") depthFigures(ctx, map, bounds);
  }

  function at(map, latlng) {
    return map.latLngToLayerPoint(latlng);
  }

  function trace(ctx, map, points) {
    ctx.beginPath();
    points.forEach(function (place, i) {
      const p = at(map, place);
      if (i) ctx.lineTo(p.x, p.y);
      else ctx.moveTo(p.x, p.y);
    });
  }

  // Stations -----------------------------------------------------------------------------------------------------

  function stations(ctx, map, bounds, closeness, view) {
    const here = stationsWithin(map, bounds), quiet = view !== "there", distance = lake.distance(map);
    const radius = { far: 1.8, middle: 3, close: 4.4 }[distance] * lake.weight();
    // From far away the other views are about the water alone.
    const others = quiet && distance === "far" ? []
      : here.filter(function (one) { return one.photo.page !== lake.chosen.page; });
    if (distance !== "far" && !quiet) ticks(ctx, others, radius + 8);
    dots(ctx, others, radius, quiet);
    // The chosen photograph last, so that it lies on top; its place is its own, the others make room.
    const mine = here.filter(function (one) { return one.photo.page === lake.chosen.page; })
      .sort(function (a, b) { return isMain(a) - isMain(b); });
    // Where a photograph's view is known, its outline says what a fan could only guess.
    for (const one of mine.filter(function (one) { return !one.photo.view; })) fan(ctx, one, closeness);
    ticks(ctx, mine.filter(function (one) { return one.photo.view; }), 20);
    const taken = [];
    for (const one of mine.slice().reverse()) taken.push(one.badge = roomFor(one.p, taken));
    for (const one of mine) numbered(ctx, one);
  }

  // Thrown on the plane once for all zooms: ten thousand places are too many for every paint.
  let spots = null;
  function stationsWithin(map, bounds) {
    spots = spots || ATLAS.photos.map(function (photo) { return [lake.worldX(photo.at[0]), lake.worldY(photo.at[1])]; });
    const scale = 256 * Math.pow(2, map.getZoom()), origin = map.getPixelOrigin(), low = bounds.min, high = bounds.max, found = [];
    for (let i = 0; i < spots.length; i++) {
      const x = Math.round(spots[i][0] * scale - origin.x), y = Math.round(spots[i][1] * scale - origin.y);
      if (x >= low.x && x <= high.x && y >= low.y && y <= high.y) found.push({ photo: ATLAS.photos[i], p: L.point(x, y) });
    }
    return found;
  }

  function isMain(one) {
    return one.photo.id === lake.chosen.photo ? 1 : 0;
  }

  function roomFor(p, taken) {
    for (const step of [[0, 0], [24, 0], [-24, 0], [0, 24], [0, -24], [24, 24], [-24, 24], [24, -24], [-24, -24]]) {
      const place = p.add(step);
      if (taken.every(function (other) { return other.distanceTo(place) > 21; })) return place;
    }
    return p;
  }

  function seenBox(map, bounds) {
    const sw = map.layerPointToLatLng(bounds.getBottomLeft()), ne = map.layerPointToLatLng(bounds.getTopRight());
    return [sw.lng, sw.lat, ne.lng, ne.lat];
  }

  function ticks(ctx, some, length) {
    ctx.beginPath();
    for (const one of some) {
      if (one.photo.heading === null) continue;
      const angle = one.photo.heading * TURN;
      ctx.moveTo(one.p.x, one.p.y);
      ctx.lineTo(one.p.x + length * Math.sin(angle), one.p.y - length * Math.cos(angle));
    }
    ctx.strokeStyle = lake.colour("camera");
    ctx.lineWidth = 2 * lake.weight();
    ctx.stroke();
  }

  // All dots in one path, and one where several would lie on each other: ten thousand are as quick as ten.
  function dots(ctx, some, radius, quiet) {
    const drawn = new Set();
    ctx.beginPath();
    for (const one of some) {
      const place = one.p.x * 65536 + one.p.y;
      if (drawn.has(place)) continue;
      drawn.add(place);
      ctx.moveTo(one.p.x + radius, one.p.y);
      ctx.arc(one.p.x, one.p.y, radius, 0, 2 * Math.PI);
    }
    ctx.fillStyle = lake.colour(quiet ? "paper" : "camera");
    ctx.strokeStyle = lake.colour(quiet ? "camera" : "paper");
    ctx.lineWidth = 1.3;
    ctx.fill();
    if (radius > 2) ctx.stroke();
  }

  // The fan says which way and how wide the camera looked; how far it saw is not known.
  function fan(ctx, one, closeness) {
    if (one.photo.heading === null) return;
    const main = isMain(one);
    const reach = Math.min(Math.max(one.photo.off * 1.25 / closeness, 46), 240) * (main ? 1 : 0.5);
    const middle = (one.photo.heading - 90) * TURN, half = Math.min(one.photo.width, 170) / 2 * TURN;
    ctx.beginPath();
    ctx.moveTo(one.p.x, one.p.y);
    ctx.arc(one.p.x, one.p.y, reach, middle - half, middle + half);
    ctx.closePath();
    ctx.globalAlpha = lake.sunlit() ? 0 : main ? 0.16 : 0.07;
    ctx.fillStyle = lake.colour("camera");
    ctx.fill();
    ctx.globalAlpha = main || lake.sunlit() ? 1 : 0.55;
    ctx.strokeStyle = lake.colour("camera");
    ctx.lineWidth = 1.2 * lake.weight();
    ctx.stroke();
    ctx.globalAlpha = 1;
  }

  function numbered(ctx, one) {
    const main = isMain(one), radius = (main ? 12 : 10) * lake.letters(), p = one.badge;
    ctx.beginPath();
    ctx.arc(p.x, p.y, radius, 0, 2 * Math.PI);
    ctx.fillStyle = lake.colour(main ? "camera" : "paper");
    ctx.strokeStyle = lake.colour(main ? "paper" : "camera");
    ctx.lineWidth = 2;
    ctx.fill();
    ctx.stroke();
    letter(ctx, "600", 13);
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    ctx.fillStyle = lake.colour(main ? "on-camera" : "camera");
    ctx.fillText(one.photo.heading === null ? one.photo.number + "?" : String(one.photo.number), p.x, p.y + 0.5);
    keep(p.x, p.y, 2 * radius, 2 * radius);
  }

  // Choice -------------------------------------------------------------------------------------------------------

  function chosenTile(ctx, map) {
    const tile = lake.tileById.get(lake.chosen.tile);
    if (!tile) return;
    for (const rings of lake.areas(tile.area)) {
      trace(ctx, map, rings[0]);
      ctx.strokeStyle = lake.colour("ink");
      ctx.lineWidth = 2.5;
      ctx.stroke();
    }
  }

  function letter(ctx, kind, size_px) {
    ctx.font = kind + " " + size_px * lake.letters() + "px " + FACE;
  }

  // Lettering ----------------------------------------------------------------------------------------------------

  function write(ctx, text, x, y, colour) {
    ctx.lineWidth = 3.5;
    ctx.strokeStyle = lake.colour("halo");
    ctx.strokeText(text, x, y);
    ctx.fillStyle = lake.colour(colour);
    ctx.fillText(text, x, y);
  }

  function keep(x, y, width, height) {
    boxes.push([x - width / 2, y - height / 2, x + width / 2, y + height / 2]);
  }

  function free(x, y, width, height) {
    return boxes.every(function (b) {
      return x + width / 2 < b[0] || x - width / 2 > b[2] || y + height / 2 < b[1] || y - height / 2 > b[3];
    });
  }

  // A tile's name stands in the corner that is in sight, so that a reader deep inside a tile still knows which it is.
  function tileNames(ctx, map, bounds) {
    const seen = map.getSize();
    const corner = map.containerPointToLayerPoint([0, 0]);
    letter(ctx, "600", 12.5);
    ctx.textAlign = "left";
    ctx.textBaseline = "top";
    for (const tile of ATLAS.tiles) {
      const nw = at(map, [tile.bounds[3], tile.bounds[0]]), se = at(map, [tile.bounds[1], tile.bounds[2]]);
      const width = ctx.measureText(tile.label).width;
      if (se.x - nw.x < width + 24 || se.y < corner.y || nw.y > corner.y + seen.y) continue;
      const x = Math.min(Math.max(nw.x + 7, corner.x + 10), se.x - width - 7);
      const y = Math.min(Math.max(nw.y + 6, corner.y + 8), se.y - 20);
      write(ctx, tile.label, x, y, tile.id === lake.chosen.tile ? "ink" : "soft");
      keep(x + width / 2, y + 8, width + 8, 18);
    }
  }

  function names(ctx, map, areas, colour, size) {
    letter(ctx, "italic", size);
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    for (const area of areas) {
      const p = at(map, [area.at[1], area.at[0]]);
      const width = ctx.measureText(area.name).width;
      if (!free(p.x, p.y, width, size + 4)) continue;
      write(ctx, area.name, p.x, p.y, colour);
      keep(p.x, p.y, width + 10, size + 8);
    }
  }

  // Depth figures sit on their line, turned along it but never upside down, heavy lines first, a hand's width apart.
  function depthFigures(ctx, map, bounds) {
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    const far = lake.distance(map) === "far";
    const order = lake.isobaths().filter(function (isobath) { return isobath.major || !far; }).sort(function (a, b) { return (b.major ? 1 : 0) - (a.major ? 1 : 0); });
    for (const isobath of order) {
      letter(ctx, isobath.major ? "600" : "400", isobath.major ? 14 : 13);
      isobath.words = isobath.words || lake.plain(Number(isobath.label));
      const width = ctx.measureText(isobath.words).width;
      const box = seenBox(map, bounds);
      isobath.boxes = isobath.boxes || lake.isobathLines(isobath).map(lake.box);
      lake.isobathLines(isobath).forEach(function (points, i) {
        if (lake.boxesMeet(isobath.boxes[i], box)) alongLine(ctx, map, bounds, points, isobath, width);
      });
    }
  }

  function alongLine(ctx, map, bounds, points, isobath, width) {
    const every = isobath.major ? 200 : 330;
    let walked = every * 0.6, last = null;
    for (const place of points) {
      const p = at(map, place);
      if (last) {
        walked += last.distanceTo(p);
        if (walked > every && bounds.contains(p) && free(p.x, p.y, width + 12, width + 12)) {
          figure(ctx, isobath.words, last, p);
          keep(p.x, p.y, width + 26, width + 26);
          walked = 0;
        }
      }
      last = p;
    }
  }

  function figure(ctx, label, from, to) {
    let angle = Math.atan2(to.y - from.y, to.x - from.x);
    if (angle > Math.PI / 2) angle -= Math.PI;
    if (angle < -Math.PI / 2) angle += Math.PI;
    ctx.save();
    ctx.translate((from.x + to.x) / 2, (from.y + to.y) / 2);
    ctx.rotate(angle);
    write(ctx, label, 0, 0, "deep");
    ctx.restore();
  }

  // Letters on a canvas do not call for their face by themselves; those of the first view are drawn again when it has come.
  lake.whenShown(function () {
    Promise.all(["600 13px " + FACE, "13px " + FACE, "italic 17px " + FACE].map(function (font) {
      return document.fonts.load(font);
    })).then(function () { lake.repaint(); }, function () { /* the system's face serves */ });
  });
})();
