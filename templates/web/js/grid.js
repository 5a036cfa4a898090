// The depth grid of data.js: metres below the datum on square cells, row 0 in the south, NaN where not known.
"use strict";
(function () {
  // What is land for the tints: so high that their edges close right at the outermost cells.
  const PER_METRE = 100, SPREAD_CELLS = 2, LAND_M = -1e6;
  const POWERS = [];
  for (let i = 0; i < 4; i++) for (let j = 0; j < 4 - i; j++) POWERS.push([i, j]);
  let opened = null, spread = null;

  // Numbers in groups of seven bits, the lowest first; the top bit of a byte says that more follow.
  function numbers(text) {
    const bytes = atob(text), found = [];
    let value = 0, place = 1;
    for (let i = 0; i < bytes.length; i++) {
      const byte = bytes.charCodeAt(i);
      value += (byte & 127) * place;
      if (byte & 128) place *= 128;
      else {
        found.push(value);
        value = 0;
        place = 1;
      }
    }
    return found;
  }

  function mask(text, size) {
    const found = new Uint8Array(size);
    let at = 0;
    numbers(text).forEach(function (length, i) {
      if (i % 2) found.fill(1, at, at + length);
      at += length;
    });
    return found;
  }

  lake.unpackMask = mask;
  lake.unpackNumbers = numbers;

  // Each depth was packed as what it differs from the plane of its neighbours; in whole parts of a metre.
  lake.unpackDepths = function (packed, rows, cols, perMetre) {
    const known = packed.known === undefined ? new Uint8Array(rows * cols).fill(1) : mask(packed.known, rows * cols), left = numbers(packed.depths), whole = new Int32Array(rows * cols);
    const depth = new Float64Array(rows * cols).fill(NaN);
    let next = 0;
    for (let row = 0, at = 0; row < rows; row++) {
      for (let col = 0; col < cols; col++, at++) {
        if (!known[at]) continue;
        const west = col > 0 && known[at - 1], south = row > 0 && known[at - cols];
        let guess = 0;
        if (west && south && known[at - cols - 1]) guess = whole[at - 1] + whole[at - cols] - whole[at - cols - 1];
        else if (west) guess = whole[at - 1];
        else if (south) guess = whole[at - cols];
        const code = left[next++];
        whole[at] = guess + (code % 2 ? -(code + 1) / 2 : code / 2);
        depth[at] = whole[at] / perMetre;
      }
    }
    return depth;
  };

  // Opened when first asked for; null where the page has none.
  lake.grid = function () {
    if (opened || !ATLAS.grid || ATLAS.grid.why) return opened;
    const g = ATLAS.grid, depth = lake.unpackDepths(g, g.rows, g.cols, PER_METRE);
    opened = { rows: g.rows, cols: g.cols, depth: depth, deepest: 0,
      doubt: g.doubt ? mask(g.doubt, g.rows * g.cols) : null };
    for (let i = 0; i < depth.length; i++) if (depth[i] > opened.deepest) opened.deepest = depth[i];
    return opened;
  };

  // Each unknown cell beside a known one takes over its depth; neighbours along row and column come before the corners.
  function widen(depth, cols) {
    const was = depth.slice();
    for (const way of [-1, 1, -cols, cols, -cols - 1, -cols + 1, cols - 1, cols + 1]) {
      for (let at = 0; at < was.length; at++) {
        if (was[at] === was[at] && depth[at + way] !== depth[at + way]) depth[at + way] = was[at];
      }
    }
  }

  // Depths carried outward from the known cells, so that tints fill the outermost whole; beyond them is land.
  lake.spreadGrid = function () {
    if (spread || !lake.grid()) return spread;
    const from = lake.grid(), by = SPREAD_CELLS + 1, rows = from.rows + 2 * by, cols = from.cols + 2 * by;
    const depth = new Float64Array(rows * cols).fill(NaN);
    for (let row = 0; row < from.rows; row++) {
      depth.set(from.depth.subarray(row * from.cols, (row + 1) * from.cols), (row + by) * cols + by);
    }
    for (let step = 0; step < SPREAD_CELLS; step++) widen(depth, cols);
    for (let at = 0; at < depth.length; at++) if (depth[at] !== depth[at]) depth[at] = LAND_M;
    spread = { rows: rows, cols: cols, depth: depth, by: by };
    return spread;
  };

  function polynomial(row, u, v) {
    const us = [1, u, u * u, u * u * u], vs = [1, v, v * v, v * v * v];
    let sum = 0;
    for (let k = 0; k < POWERS.length; k++) sum += row[k] * us[POWERS[k][0]] * vs[POWERS[k][1]];
    return sum;
  }

  // Column and row (0 is a cell's middle) to [latitude, longitude], and back.
  lake.placeOfCell = function (col, row) {
    const g = ATLAS.grid, u = (col - g.middle[0]) / g.half[0], v = (row - g.middle[1]) / g.half[1];
    return [g.middle[3] + g.half[3] * polynomial(g.forward[1], u, v), g.middle[2] + g.half[2] * polynomial(g.forward[0], u, v)];
  };

  lake.cellOfPlace = function (lat, lon) {
    const g = ATLAS.grid, p = (lon - g.middle[2]) / g.half[2], q = (lat - g.middle[3]) / g.half[3];
    return [g.middle[0] + g.half[0] * polynomial(g.back[0], p, q), g.middle[1] + g.half[1] * polynomial(g.back[1], p, q)];
  };

  // Depth below the water of a stage, straight between four cells; NaN where one that is needed is not known.
  lake.depthAt = function (lat, lon, stage) {
    const grid = lake.grid(), cell = lake.cellOfPlace(lat, lon);
    const west = Math.floor(cell[0]), south = Math.floor(cell[1]);
    let depth = 0;
    for (const step of [[0, 0], [0, 1], [1, 0], [1, 1]]) {
      const row = south + step[0], col = west + step[1];
      const weight = Math.abs(1 - step[0] - (cell[1] - south)) * Math.abs(1 - step[1] - (cell[0] - west));
      if (!weight) continue;
      const inside = row >= 0 && row < grid.rows && col >= 0 && col < grid.cols;
      depth += weight * (inside ? grid.depth[row * grid.cols + col] : NaN);
    }
    return depth + stage;
  };
})();
