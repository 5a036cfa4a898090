// Lines and areas of the ground as places on the square of the whole world, 0 to 1 to the east and to the south (Web
// Mercator): a pan or a zoom shifts and scales them while they are drawn. The map library's own lines are thrown on the
// plane, cut and thinned each time, and that was half of what a phone did before it could show a large lake.
"use strict";
(function () {
  const MICRO = 1e6;
  // A shorter step is not seen; CSS pixels.
  const SHORTEST_PX = 0.7;
  const WEST = 1, EAST = 2, NORTH = 4, SOUTH = 8;
  const known = new WeakMap();

  lake.worldX = function (lng) {
    return 0.5 + lng / 360;
  };

  lake.worldY = function (lat) {
    return 0.5 - Math.log(Math.tan(Math.PI / 4 + lat * Math.PI / 360)) / (2 * Math.PI);
  };

  // A packed line: its places (x, y, x, y, ...) and how far it reaches; opened once.
  function opened(packed) {
    if (known.has(packed)) return known.get(packed);
    const flat = { xy: new Float64Array(packed.length), west: Infinity, east: -Infinity, north: Infinity, south: -Infinity };
    let lng = ATLAS.origin[0], lat = ATLAS.origin[1];
    for (let n = 0; n < packed.length; n += 2) {
      lng += packed[n];
      lat += packed[n + 1];
      const x = flat.xy[n] = lake.worldX(lng / MICRO), y = flat.xy[n + 1] = lake.worldY(lat / MICRO);
      if (x < flat.west) flat.west = x;
      if (x > flat.east) flat.east = x;
      if (y < flat.north) flat.north = y;
      if (y > flat.south) flat.south = y;
    }
    known.set(packed, flat);
    return flat;
  }

  function beyond(x, y, seen) {
    return (x < seen.min.x ? WEST : x > seen.max.x ? EAST : 0) | (y < seen.min.y ? NORTH : y > seen.max.y ? SOUTH : 0);
  }

  // Leaves out what is too near the last point to be seen, and points between two others beyond the same edge of `seen`.
  function trace(ctx, xy, scale, origin, seen) {
    const last = xy.length - 2;
    let x = xy[0] * scale - origin.x, y = xy[1] * scale - origin.y, side = beyond(x, y, seen), drawn = side, waits = false;
    ctx.moveTo(x, y);
    for (let n = 2; n <= last; n += 2) {
      const nextX = xy[n] * scale - origin.x, nextY = xy[n + 1] * scale - origin.y;
      if (n < last && Math.abs(nextX - x) < SHORTEST_PX && Math.abs(nextY - y) < SHORTEST_PX) continue;
      const next = beyond(nextX, nextY, seen);
      if (waits && !(drawn & side & next)) {
        ctx.lineTo(x, y);
        drawn = side;
      }
      x = nextX;
      y = nextY;
      side = next;
      waits = true;
    }
    if (waits) ctx.lineTo(x, y);
  }

  // A path of the map library that is drawn from packed lines; its renderer is a canvas that listens to no pointer.
  lake.Shape = L.Path.extend({
    initialize: function (lines, options) {
      this.lines = lines;
      L.setOptions(this, options);
    },

    setLines: function (lines) {
      this.lines = lines;
      return this.redraw();
    },

    // While a zoom runs the canvas stays as it was drawn.
    _project: function () {
      this._scale = 256 * Math.pow(2, this._map.getZoom());
      this._origin = this._map.getPixelOrigin();
    },

    _update: function () {
      this._pxBounds = this._renderer._bounds;
    },

    _updateBounds: function () {},

    _trace: function (ctx) {
      const scale = this._scale, origin = this._origin, seen = this._renderer._bounds;
      ctx.beginPath();
      for (const packed of this.lines) {
        const flat = opened(packed);
        if (flat.east * scale - origin.x < seen.min.x || flat.west * scale - origin.x > seen.max.x) continue;
        if (flat.south * scale - origin.y < seen.min.y || flat.north * scale - origin.y > seen.max.y) continue;
        trace(ctx, flat.xy, scale, origin, seen);
      }
    },

    _updatePath: function () {
      const renderer = this._renderer;
      if (!renderer._drawing || !this.lines.length) return;
      this._trace(renderer._ctx);
      renderer._fillStroke(renderer._ctx, this);
    },
  });

  lake.shape = function (lines, options) {
    return new lake.Shape(lines, options);
  };
})();
