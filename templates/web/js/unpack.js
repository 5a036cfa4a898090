// Geometry comes as whole millionths of a degree: x, y of the first point from the survey's corner, then steps.
"use strict";
(function () {
  const MICRO = 1e6;
  // What no first view draws came as text: it is read when a script first asks for it.
  for (const name of Object.keys(ATLAS_LATER)) {
    Object.defineProperty(ATLAS, name, { configurable: true, get: function () {
      const value = JSON.parse(ATLAS_LATER[name]);
      delete ATLAS_LATER[name];
      Object.defineProperty(ATLAS, name, { value: value, writable: true });
      return value;
    } });
  }
  // The pocket edition holds no files beside its page, and says so.
  if (document.getElementById("pocket")) ATLAS.pictures = [];

  lake.line = function (packed) {
    const points = [];
    let x = ATLAS.origin[0], y = ATLAS.origin[1];
    for (let i = 0; i < packed.length; i += 2) {
      x += packed[i];
      y += packed[i + 1];
      points.push([y / MICRO, x / MICRO]);
    }
    return points;
  };

  lake.lines = function (many) {
    return many.map(lake.line);
  };

  lake.areas = function (areas) {
    return areas.map(lake.lines);
  };

  lake.box = function (points) {
    const lats = points.map(function (p) { return p[0]; }), lons = points.map(function (p) { return p[1]; });
    return [Math.min.apply(null, lons), Math.min.apply(null, lats), Math.max.apply(null, lons), Math.max.apply(null, lats)];
  };

  lake.boxesMeet = function (a, b) {
    return a[0] <= b[2] && a[2] >= b[0] && a[1] <= b[3] && a[3] >= b[1];
  };

  lake.isobathLines = function (isobath) {
    isobath.points = isobath.points || lake.lines(isobath.lines);
    return isobath.points;
  };

  lake.photoById = new Map(ATLAS.photos.map(function (photo) { return [photo.id, photo]; }));
  lake.reachById = new Map(ATLAS.reaches.map(function (reach) { return [reach.id, reach]; }));

  // What photographs and reaches have beside their facts is opened when first asked for.
  const PHOTO = {
    get view() { return ATLAS.view[this.index]; },
    get noView() { return ATLAS.noView[this.index]; },
    get stage() { return ATLAS.stage[this.index]; },
    get when() { return ATLAS.when[this.index]; },
  };
  const REACH = {
    get shownBy() { return ATLAS.shownBy[this.index]; },
    get points() {
      this._points = this._points || [].concat.apply([], lake.lines(this.lines));
      return this._points;
    },
    get box() {
      this._box = this._box || lake.box(this.points);
      return this._box;
    },
  };
  for (const [all, more] of [[ATLAS.photos, PHOTO], [ATLAS.reaches, REACH]]) {
    all.forEach(function (one, i) {
      one.index = i;
      Object.setPrototypeOf(one, more);
    });
  }

  // Whether some photograph is known to show a reach, on whatever page that stands.
  lake.isShown = function (reach) {
    return reach.state === "well" || reach.state === "poorly";
  };
  lake.tileById = new Map(ATLAS.tiles.map(function (tile) { return [tile.id, tile]; }));
  lake.pageByNumber = new Map(ATLAS.pages.map(function (page) { return [page.number, page]; }));
})();
