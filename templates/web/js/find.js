// What lies under a finger or a pointer: the reader's mark first, then a landmark, then a station, then a bank, then the tile.
"use strict";
(function () {
  const coarse = matchMedia("(pointer: coarse)").matches;
  const STATION_PX = coarse ? 24 : 14;
  const BANK_PX = coarse ? 22 : 12;

  // West, south, east, north of what lies within so many pixels: most things are ruled out by four comparisons.
  function around(map, point, px) {
    const sw = map.containerPointToLatLng(point.add([-px, px])), ne = map.containerPointToLatLng(point.add([px, -px]));
    return [sw.lng, sw.lat, ne.lng, ne.lat];
  }

  function nearestPhoto(map, point) {
    const box = around(map, point, STATION_PX);
    let best = null, least = STATION_PX;
    for (const photo of ATLAS.photos) {
      if (photo.at[0] < box[0] || photo.at[0] > box[2] || photo.at[1] < box[1] || photo.at[1] > box[3]) continue;
      const p = map.latLngToContainerPoint([photo.at[1], photo.at[0]]);
      const away = p.distanceTo(point);
      if (away < least) {
        least = away;
        best = photo;
      }
    }
    return best;
  }

  function nearestReach(map, point) {
    const box = around(map, point, BANK_PX);
    let best = null, least = BANK_PX;
    for (const reach of ATLAS.reaches) {
      if (!lake.boxesMeet(reach.box, box)) continue;
      let last = null;
      for (const place of reach.points) {
        const p = map.latLngToContainerPoint(place);
        if (last) {
          const away = L.LineUtil.pointToSegmentDistance(point, last, p);
          if (away < least) {
            least = away;
            best = reach;
          }
        }
        last = p;
      }
    }
    return best;
  }

  function tileAt(latlng) {
    return ATLAS.tiles.find(function (tile) {
      const b = tile.bounds;
      return latlng.lng >= b[0] && latlng.lng < b[2] && latlng.lat >= b[1] && latlng.lat < b[3]
        && lake.areas(tile.area).some(function (rings) { return inside(latlng, rings[0]); });
    }) || null;
  }

  lake.tileAt = tileAt;

  function inside(latlng, ring) {
    let is = false;
    for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
      const a = ring[i], b = ring[j];
      if ((a[0] > latlng.lat) !== (b[0] > latlng.lat)
        && latlng.lng < (b[1] - a[1]) * (latlng.lat - a[0]) / (b[0] - a[0]) + a[1]) is = !is;
    }
    return is;
  }

  lake.insideRing = inside;

  // Returns an address such as #photo-..., or null.
  lake.find = function (map, point, latlng) {
    const own = lake.markNear(map, point), mark = lake.landmarkNear(map, point), asks = lake.asksSpot(latlng);
    if (own) return "mark-" + own.id;
    if (mark) return "landmark-" + mark.id;
    // "How sure?" asks of the water, wherever it is touched.
    if (asks && lake.root.dataset.view === "sure") return lake.spotAnchor(latlng);
    const photo = nearestPhoto(map, point);
    if (photo) return "photo-" + photo.id;
    const reach = nearestReach(map, point);
    if (reach) return lake.anchor("reach", reach.id);
    if (asks) return lake.spotAnchor(latlng);
    const tile = tileAt(latlng);
    return tile ? lake.anchor("tile", tile.id) : null;
  };

  lake.over = function (map, point) {
    return Boolean(lake.markNear(map, point) || lake.landmarkNear(map, point) || nearestPhoto(map, point) || nearestReach(map, point));
  };

  // As the pages were written: percent-encoded, with slashes kept.
  lake.anchor = function (prefix, name) {
    return prefix + "-" + encodeURIComponent(name).replace(/%2F/g, "/").replace(/[!'()*]/g, function (c) {
      return "%" + c.charCodeAt(0).toString(16).toUpperCase();
    });
  };
})();
