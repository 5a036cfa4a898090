// Lines of equal depth through a grid: marching squares, joined, the deeper side on the left (column right, row up).
"use strict";
(function () {
  // An edge is numbered by its cell: along the row, up the column, or across, where one corner of a square is unknown.
  const ALONG = 0, UP = 1, ACROSS = 2;
  const value = new Float64Array(4), edge = new Int32Array(4), known = new WeakMap();

  // Returns for each level (ascending) a list of { points: [col, row, ...], closed }. Lines end where depths are unknown
  // (NaN), and at the grid's border.
  lake.contours = function (depth, rows, cols, levels) {
    const pairs = levels.map(function () { return []; }), squares = squaresOf(depth, rows, cols);
    let first = 0;
    for (let n = 0; n < squares.cells.length; n++) {
      // Neighbours are about as deep: the first level above the lowest corner is found from the last square's.
      while (first > 0 && levels[first - 1] > squares.low[n]) first--;
      while (first < levels.length && levels[first] <= squares.low[n]) first++;
      if (first === levels.length || levels[first] > squares.high[n]) continue;
      const count = corners(depth, squares.cells[n], cols);
      for (let k = first; k < levels.length && levels[k] <= squares.high[n]; k++) cross(count, levels[k], pairs[k]);
    }
    const next = new Int32Array(3 * rows * cols).fill(-1), entered = new Uint8Array(3 * rows * cols);
    return pairs.map(function (flat, i) {
      return joined(flat, next, entered).map(function (chain) {
        return { points: places(chain.edges, depth, cols, levels[i]), closed: chain.closed };
      });
    });
  };

  // The squares that a line can cross, by their south-western cell, with their least and greatest depth; found once.
  function squaresOf(depth, rows, cols) {
    if (known.has(depth)) return known.get(depth);
    const cells = [], low = [], high = [];
    for (let row = 0; row < rows - 1; row++) {
      for (let sw = row * cols; sw < (row + 1) * cols - 1; sw++) {
        const count = corners(depth, sw, cols);
        if (count < 3) continue;
        const least = Math.min(value[0], value[1], value[2], count === 4 ? value[3] : value[0]);
        const most = Math.max(value[0], value[1], value[2], count === 4 ? value[3] : value[0]);
        if (least === most) continue;
        cells.push(sw);
        low.push(least);
        high.push(most);
      }
    }
    known.set(depth, { cells: Int32Array.from(cells), low: Float64Array.from(low), high: Float64Array.from(high) });
    return known.get(depth);
  }

  // The known corners of a square, anticlockwise, each with the edge that leads to the next; their count.
  function corners(depth, sw, cols) {
    const se = sw + 1, nw = sw + cols, ne = nw + 1, a = depth[sw], b = depth[se], c = depth[ne], d = depth[nw];
    const knowsA = a === a, knowsB = b === b, knowsC = c === c, knowsD = d === d;
    let count = 0;
    if (knowsA) {
      value[count] = a;
      edge[count++] = knowsB ? 3 * sw + ALONG : 3 * sw + ACROSS;
    }
    if (knowsB) {
      value[count] = b;
      edge[count++] = knowsC ? 3 * se + UP : 3 * sw + ACROSS;
    }
    if (knowsC) {
      value[count] = c;
      edge[count++] = knowsD ? 3 * nw + ALONG : 3 * sw + ACROSS;
    }
    if (knowsD) {
      value[count] = d;
      edge[count++] = knowsA ? 3 * sw + UP : 3 * sw + ACROSS;
    }
    return count;
  }

  // From where the border of a square leaves the deeper side to where it comes back.
  function cross(count, level, pair) {
    let out = -1, secondOut = -1, back = -1, secondBack = -1;
    for (let i = 0; i < count; i++) {
      const deep = value[i] >= level, after = value[i + 1 === count ? 0 : i + 1] >= level;
      if (deep && !after) {
        if (out < 0) out = i;
        else secondOut = i;
      } else if (!deep && after) {
        if (back < 0) back = i;
        else secondBack = i;
      }
    }
    if (secondOut < 0) {
      pair.push(edge[out], edge[back]);
      return;
    }
    // A saddle: the middle says which two corners hang together.
    const middle = (value[0] + value[1] + value[2] + value[3]) / 4 >= level;
    if ((back > out) === middle) pair.push(edge[out], edge[back], edge[secondOut], edge[secondBack]);
    else pair.push(edge[out], edge[secondBack], edge[secondOut], edge[back]);
  }

  function joined(flat, next, entered) {
    for (let i = 0; i < flat.length; i += 2) {
      next[flat[i]] = flat[i + 1];
      entered[flat[i + 1]] = 1;
    }
    const chains = [];
    const follow = function (from) {
      const found = [from];
      let at = from;
      while (next[at] >= 0) {
        const to = next[at];
        next[at] = -1;
        found.push(to);
        at = to;
      }
      chains.push({ edges: found, closed: found.length > 2 && at === from });
    };
    for (let i = 0; i < flat.length; i += 2) if (!entered[flat[i]]) follow(flat[i]);
    for (let i = 0; i < flat.length; i += 2) if (next[flat[i]] >= 0) follow(flat[i]);
    for (let i = 0; i < flat.length; i += 2) entered[flat[i + 1]] = 0;
    return chains;
  }

  function places(edges, depth, cols, level) {
    const points = new Float64Array(2 * edges.length);
    for (let n = 0; n < edges.length; n++) {
      const kind = edges[n] % 3, cell = (edges[n] - kind) / 3, row = Math.floor(cell / cols), col = cell - row * cols;
      const ne = cell + cols + 1, rises = depth[cell] === depth[cell] && depth[ne] === depth[ne];
      const from = kind === ACROSS && !rises ? cell + 1 : cell;
      const to = kind === ALONG ? cell + 1 : kind === UP ? cell + cols : rises ? ne : cell + cols;
      const share = (level - depth[from]) / (depth[to] - depth[from]);
      points[2 * n] = col + (kind === ALONG ? share : kind === UP ? 0 : rises ? share : 1 - share);
      points[2 * n + 1] = row + (kind === ALONG ? 0 : share);
    }
    return points;
  }
})();
