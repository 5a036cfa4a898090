// What photographs show: outlines and seen shore on the map, as SVG, so that a style sheet gives them their look.
"use strict";
(function () {
  const BEHIND = 1.05, CORNERS = 72;
  let pen = null;
  let drawn = null;

  // `view` comes packed; it is laid out when first asked for. Null where what a photograph shows is not known.
  lake.viewOf = function (photo) {
    if (photo.view && !photo.view.points) photo.view.points = lake.lines(photo.view.area);
    return photo.view || null;
  };

  // A reach's photographs, best first, each with the percent of the reach it shows and how far off it stood.
  lake.shownBy = function (reach) {
    const found = [], flat = reach.shownBy;
    for (let i = 0; i < flat.length; i += 3) {
      found.push({ photo: ATLAS.photos[flat[i]], percent: flat[i + 1], off: flat[i + 2] });
    }
    return found;
  };

  // The reaches that each photograph shows, in the order of the shore; turned round once, from the reaches' own lists.
  let byPhoto = null;
  lake.reachesOf = function (photo) {
    if (!byPhoto) {
      byPhoto = new Map();
      for (const reach of ATLAS.reaches) {
        for (const one of lake.shownBy(reach)) {
          if (!byPhoto.has(one.photo.id)) byPhoto.set(one.photo.id, []);
          byPhoto.get(one.photo.id).push({ reach: reach, percent: one.percent });
        }
      }
    }
    return byPhoto.get(photo.id) || [];
  };

  // Shore between two chainages of a ring, cut from the reaches' lines.
  function shoreBetween(ring, from, to) {
    const points = [];
    for (const reach of ATLAS.reaches) {
      if (reach.ring !== ring || reach.to <= from || reach.from >= to) continue;
      const length = reach.to - reach.from;
      const part = cut(reach.points, (from - reach.from) / length, (to - reach.from) / length);
      points.push.apply(points, points.length ? part.slice(1) : part);
    }
    return points;
  }

  // The part of a line between two shares of its length; all of it where these lie outside 0 and 1.
  function cut(points, from, to) {
    if (from <= 0 && to >= 1) return points;
    const squeeze = Math.cos(points[0][0] * Math.PI / 180);
    const steps = points.slice(1).map(function (p, i) {
      return Math.hypot(p[0] - points[i][0], (p[1] - points[i][1]) * squeeze);
    });
    const whole = steps.reduce(function (sum, step) { return sum + step; }, 0);
    const low = Math.max(from, 0) * whole, high = Math.min(to, 1) * whole, found = [];
    let walked = 0;
    steps.forEach(function (step, i) {
      const a = points[i], b = points[i + 1];
      const at = function (along) {
        const share = step ? (along - walked) / step : 0;
        return [a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share];
      };
      if (walked + step >= low && walked <= high) {
        if (!found.length) found.push(at(Math.max(low, walked)));
        found.push(at(Math.min(high, walked + step)));
      }
      walked += step;
    });
    return found;
  }

  lake.seenShore = function (photo) {
    const view = lake.viewOf(photo), lines = [];
    if (!view) return lines;
    for (let i = 0; i < view.shore.length; i += 3) {
      lines.push(shoreBetween(view.shore[i], view.shore[i + 1], view.shore[i + 2]));
    }
    return lines.filter(function (points) { return points.length > 1; });
  };

  // Drawing ------------------------------------------------------------------------------------------------------

  // Nothing is simplified or clipped: what stands in the page is what the data say.
  const AS_IT_IS = { pane: "views", interactive: false, smoothFactor: 0, noClip: true };

  function add(layer, names) {
    layer.addTo(drawn);
    for (const name in names) layer.getElement().setAttribute(name, names[name]);
    return layer.getElement();
  }

  function line(points, className, names) {
    return add(L.polyline(points, Object.assign({ renderer: pen, className: className }, AS_IT_IS)), names);
  }

  // Outlines and leaders of one photograph; `points` are the rings to draw.
  function outline(photo, points, className) {
    if (!points.length) return;
    const options = Object.assign({ renderer: pen }, AS_IT_IS);
    // The light edge below keeps the outline clear of depth tints and depth lines.
    add(L.polygon(points, Object.assign({ className: "view-edge " + className }, options)), { "data-edge-of": photo.id });
    add(L.polygon(points, Object.assign({ className: "view " + className }, options)), { "data-photo": photo.id });
    leader(photo, points[0]);
  }

  // A frame begins away from its camera: a fine line says whose it is.
  function leader(photo, ring) {
    const from = flat([photo.at[1], photo.at[0]]), corners = ring.map(flat);
    const near = corners.map(function (corner, i) {
      return L.LineUtil.closestPointOnSegment(from, corner, corners[(i + 1) % corners.length]);
    }).sort(function (a, b) { return a.distanceTo(from) - b.distanceTo(from); })[0];
    line([[photo.at[1], photo.at[0]], round(near)], "view-leader", {});
  }

  function flat(place) {
    return L.CRS.EPSG3857.project(L.latLng(place[0], place[1]));
  }

  function round(point) {
    const place = L.CRS.EPSG3857.unproject(point);
    return [place.lat, place.lng];
  }

  // A bank's photographs may see far beyond it: each outline ends just behind the bank that was asked for.
  lake.viewUpTo = function (photo, reach) {
    const view = lake.viewOf(photo);
    if (!view || !view.points.length) return [];
    const from = flat([photo.at[1], photo.at[0]]);
    const far = Math.max.apply(null, reach.points.map(function (place) { return flat(place).distanceTo(from); })) * BEHIND;
    const disc = [];
    for (let i = 0; i < CORNERS; i++) {
      const turn = 2 * Math.PI * i / CORNERS;
      disc.push(L.point(from.x + far * Math.cos(turn), from.y + far * Math.sin(turn)));
    }
    const cutRings = view.points.map(function (ring) { return clip(ring.map(flat), disc).map(round); });
    return cutRings.filter(function (ring) { return ring.length > 2; });
  };

  // Sutherland and Hodgman (1974): a polygon cut by a convex one, edge after edge, both counted anticlockwise.
  function clip(subject, convex) {
    return convex.reduce(function (ring, a, i) {
      const b = convex[(i + 1) % convex.length];
      const side = function (p) { return (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x); };
      const kept = [];
      ring.forEach(function (p, n) {
        const before = ring[(n + ring.length - 1) % ring.length], s = side(p), t = side(before);
        if ((s >= 0) !== (t >= 0)) {
          kept.push(L.point(before.x + (p.x - before.x) * t / (t - s), before.y + (p.y - before.y) * t / (t - s)));
        }
        if (s >= 0) kept.push(p);
      });
      return kept;
    }, subject);
  }

  function seen(photo) {
    const lines = lake.seenShore(photo);
    if (!lines.length) return;
    line(lines, "seen-edge", {});
    line(lines, "seen", { "data-photo": photo.id, "data-metres": photo.view.seen });
  }

  // The bank that a page is about: whole where a reach was asked for, hollow where a photograph fills in what it shows.
  function banks(hollow) {
    const lines = (lake.chosen.reaches || []).map(function (id) { return lake.reachById.get(id); }).filter(Boolean)
      .map(function (reach) { return reach.points; });
    if (!lines.length) return;
    line(lines, "bank-edge", {});
    line(lines, "bank", {});
    if (hollow) line(lines, "bank-hollow", {});
  }

  function station(photo) {
    const place = [photo.at[1], photo.at[0]];
    add(L.circleMarker(place, { renderer: pen, pane: "views", interactive: false, radius: 6, className: "view-station" }), { "data-photo": photo.id });
  }

  // Draws what was chosen anew. `hot` is the id of a photograph that a link in the panel points at, or null.
  lake.drawViews = function (hot) {
    drawn.clearLayers();
    const asked = lake.chosen.asked, main = lake.photoById.get(lake.chosen.photo);
    const reach = lake.reachById.get(asked), shows = asked ? lake.shownBy(reach) : [];
    const photo = lake.photoById.get(hot) || (asked ? null : main);
    // The best last, so that it lies on top.
    for (const one of shows.slice().reverse()) {
      if (one.photo.id !== hot) outline(one.photo, lake.viewUpTo(one.photo, reach), "view-of-many");
    }
    if (photo && lake.viewOf(photo)) outline(photo, lake.viewOf(photo).points, "view-main");
    banks(Boolean(photo && lake.viewOf(photo)));
    if (photo) seen(photo);
    for (const one of shows) station(one.photo);
  };

  lake.startViews = function (map) {
    pen = L.svg({ pane: "views", padding: 0.5 });
    drawn = L.layerGroup().addTo(map);
  };
})();
