// The lake at another level, or one depth of it: tints, dry ground and depth lines drawn from the depth grid.
"use strict";
(function () {
  const UNIT_M = ATLAS.depthUnit === "feet" ? 0.3048 : 1;
  const MOST_BANDS = 10, LATTICE = 16;
  // Above any bed, below what the grid takes for land.
  const EVERYWHERE_M = -1e5;
  // Loops and ends shorter than these say nothing, doubt shorter than this would flicker; as in the depth model's lines.
  const SHORTEST_LOOP = 8, SHORTEST_END = 2, SHORTEST_PART = 6;
  let drawn = null, lattice = null;

  // The level that the edition is told for, until a reader sets another.
  lake.water = { stage: ATLAS.shownStage, lit: null };

  // The printed lines and tints stand as they are until they would be false.
  lake.ownWater = function () {
    return Boolean(drawn);
  };

  // Places of cells, looked up on a coarse lattice: between its nodes a straight line is out by less than a millimetre.
  function world(points, shift) {
    const grid = lake.grid();
    if (!lattice) {
      const across = Math.ceil((grid.cols + 8) / LATTICE) + 2, up = Math.ceil((grid.rows + 8) / LATTICE) + 2;
      lattice = { across: across, x: new Float64Array(across * up), y: new Float64Array(across * up) };
      for (let j = 0; j < up; j++) {
        for (let i = 0; i < across; i++) {
          const place = lake.placeOfCell(i * LATTICE - 4, j * LATTICE - 4);
          lattice.x[j * across + i] = 0.5 + place[1] / 360;
          lattice.y[j * across + i] = 0.5 - Math.log(Math.tan(Math.PI / 4 + place[0] * Math.PI / 360)) / (2 * Math.PI);
        }
      }
    }
    const found = new Float64Array(points.length), across = lattice.across, xs = lattice.x, ys = lattice.y;
    for (let n = 0; n < points.length; n += 2) {
      const a = (points[n] - shift + 4) / LATTICE, b = (points[n + 1] - shift + 4) / LATTICE;
      const i = Math.floor(a), j = Math.floor(b), s = a - i, t = b - j, at = j * across + i;
      found[n] = (xs[at] * (1 - s) + xs[at + 1] * s) * (1 - t) + (xs[at + across] * (1 - s) + xs[at + across + 1] * s) * t;
      found[n + 1] = (ys[at] * (1 - s) + ys[at + 1] * s) * (1 - t) + (ys[at + across] * (1 - s) + ys[at + across + 1] * s) * t;
    }
    return found;
  }

  // Round depths that part the water into at most ten bands: steps of 1, 2 or 5 times a power of ten; metres.
  lake.bandEdges = function (deepestM) {
    const deepest = Math.max(deepestM / UNIT_M, 0.1);
    for (let power = -1; power < 6; power++) {
      for (const one of [1, 2, 5]) {
        const step = one * Math.pow(10, power), count = Math.ceil(deepest / step - 1e-9);
        if (count > MOST_BANDS) continue;
        return Array.from({ length: count + 1 }, function (_, i) { return i * step * UNIT_M; });
      }
    }
    return [0, deepestM];
  };

  // The depths that have a line: those of the edition, and beyond its deepest the last step again.
  function lineDepths(deepest) {
    const found = ATLAS.isobaths.map(function (line) { return { label: line.label, value: Number(line.label), major: line.major }; });
    const last = found[found.length - 1], before = found[found.length - 2];
    const major = found.filter(function (line) { return line.major; })[0], step = before ? last.value - before.value : 0;
    for (let value = last ? last.value + step : 0; step > 0 && value * UNIT_M <= deepest; value += step) {
      const times = major ? value / major.value : 0.5;
      found.push({ label: String(Number(value.toFixed(6))), value: value, major: Math.abs(times - Math.round(times)) < 1e-6 });
    }
    return found.filter(function (line) { return line.value * UNIT_M <= deepest; });
  }

  function length(points) {
    let sum = 0;
    for (let n = 2; n < points.length; n += 2) sum += Math.hypot(points[n] - points[n - 2], points[n + 1] - points[n - 1]);
    return sum;
  }

  // Whether ground as shallow as `depth` lies within a small loop, or right beside it: such a shoal is never left out.
  function shoal(grid, points, depth) {
    let west = Infinity, east = -Infinity, south = Infinity, north = -Infinity;
    for (let n = 0; n < points.length; n += 2) {
      west = Math.min(west, points[n]);
      east = Math.max(east, points[n]);
      south = Math.min(south, points[n + 1]);
      north = Math.max(north, points[n + 1]);
    }
    for (let row = Math.floor(south); row <= Math.ceil(north); row++) {
      for (let col = Math.floor(west); col <= Math.ceil(east); col++) {
        if (grid.depth[row * grid.cols + col] <= depth) return true;
      }
    }
    return false;
  }

  // Parts a line into where its depth is sure and where it is in doubt.
  function parted(grid, points) {
    const steps = points.length / 2 - 1, doubt = new Uint8Array(steps);
    if (grid.doubt) {
      for (let i = 0; i < steps; i++) {
        const col = Math.round((points[2 * i] + points[2 * i + 2]) / 2), row = Math.round((points[2 * i + 1] + points[2 * i + 3]) / 2);
        doubt[i] = grid.doubt[row * grid.cols + col];
      }
      for (const kind of [0, 1]) {
        runs(doubt, function (from, to) {
          if (doubt[from] === kind && to - from < SHORTEST_PART && to - from < steps) doubt.fill(1 - kind, from, to);
        });
      }
    }
    const found = [];
    runs(doubt, function (from, to) { found.push({ doubt: doubt[from], points: points.slice(2 * from, 2 * to + 2) }); });
    return found;
  }

  function runs(values, tell) {
    let from = 0;
    const ends = [];
    for (let i = 1; i <= values.length; i++) if (i === values.length || values[i] !== values[i - 1]) ends.push(i);
    for (const to of ends) {
      tell(from, to);
      from = to;
    }
  }

  function depthLines(stage) {
    const grid = lake.grid(), depths = lineDepths(grid.deepest + stage);
    const levels = depths.map(function (line) { return line.value * UNIT_M - stage; });
    return lake.contours(grid.depth, grid.rows, grid.cols, levels).map(function (chains, i) {
      const above = i ? levels[i - 1] : -stage, line = { label: depths[i].label, value: depths[i].value, major: depths[i].major, sure: [], doubtful: [] };
      for (const chain of chains) {
        const short = length(chain.points) < (chain.closed ? SHORTEST_LOOP : SHORTEST_END);
        if (short && !(chain.closed && shoal(grid, chain.points, above))) continue;
        for (const part of parted(grid, chain.points)) (part.doubt ? line.doubtful : line.sure).push(world(part.points, 0));
      }
      return line;
    });
  }

  function regions(levels) {
    const grid = lake.spreadGrid();
    return lake.contours(grid.depth, grid.rows, grid.cols, levels).map(function (chains) {
      return chains.map(function (chain) { return world(chain.points, grid.by); });
    });
  }

  // Works out what is to be drawn for a stage (metres against full) and a lit band ([from, to] metres, or null).
  lake.setWater = function (stage, lit) {
    lake.water = { stage: stage, lit: lit };
    drawn = null;
    if (!lake.grid() || (stage === ATLAS.shownStage && !lit)) return;
    const deepest = lake.grid().deepest + stage, edges = deepest > 0 ? lake.bandEdges(deepest) : [0];
    // Depths of zero and less are above the bank's line at full: nothing is dry there.
    const wet = regions(edges.slice(0, -1).concat(edges.length === 1 ? [0] : []).map(function (edge) { return edge - stage; }));
    drawn = { stage: stage, edges: edges, wet: wet, lit: lit && regions([lit[0] > 0 || stage < 0 ? lit[0] - stage : EVERYWHERE_M, lit[1] - stage]), lines: depthLines(stage) };
  };

  // What every level needs, found before the first is set.
  lake.readyWater = function () {
    regions([]);
    depthLines(-lake.grid().deepest);
    world([0, 0], 0);
  };

  lake.waterEdges = function () {
    return drawn ? drawn.edges : null;
  };

  // The lines that the map letters: the printed ones, or those of the level set.
  lake.isobaths = function () {
    if (!drawn) return ATLAS.isobaths;
    const lit = lake.water.lit, far = lake.distance(lake.map) === "far";
    return drawn.lines.filter(function (line) {
      // From far away only the heavy lines are lettered.
      if (far && !line.major) return false;
      return !lit || (line.value * UNIT_M >= lit[0] - 1e-6 && line.value * UNIT_M <= lit[1] + 1e-6);
    }).map(function (line) {
      line.points = line.points || line.sure.concat(line.doubtful).map(degrees);
      return line;
    });
  };

  function degrees(flat) {
    const points = [];
    for (let n = 0; n < flat.length; n += 2) {
      points.push([Math.atan(Math.sinh((1 - 2 * flat[n + 1]) * Math.PI)) * 180 / Math.PI, (flat[n] - 0.5) * 360]);
    }
    return points;
  }

  // Drawing ------------------------------------------------------------------------------------------------------

  // Lets `ctx` walk along lines in sight; canvas places are those of the map's own layers.
  function walk(ctx, map, bounds, lines) {
    const scale = 256 * Math.pow(2, map.getZoom()), origin = map.getPixelOrigin();
    for (const flat of lines) {
      let west = Infinity, east = -Infinity, north = Infinity, south = -Infinity;
      for (let n = 0; n < flat.length; n += 2) {
        if (flat[n] < west) west = flat[n];
        if (flat[n] > east) east = flat[n];
        if (flat[n + 1] < north) north = flat[n + 1];
        if (flat[n + 1] > south) south = flat[n + 1];
      }
      if (east * scale - origin.x < bounds.min.x || west * scale - origin.x > bounds.max.x) continue;
      if (south * scale - origin.y < bounds.min.y || north * scale - origin.y > bounds.max.y) continue;
      ctx.moveTo(flat[0] * scale - origin.x, flat[1] * scale - origin.y);
      for (let n = 2; n < flat.length; n += 2) ctx.lineTo(flat[n] * scale - origin.x, flat[n + 1] * scale - origin.y);
    }
  }

  function pattern(ground, ink, size, mark) {
    const tile = document.createElement("canvas"), ctx = tile.getContext("2d");
    tile.width = tile.height = size;
    ctx.fillStyle = ground;
    ctx.fillRect(0, 0, size, size);
    ctx.fillStyle = ctx.strokeStyle = ink;
    mark(ctx, size);
    return ctx.createPattern(tile, "repeat");
  }

  // The water's colour, hatched: it is told from the rest without its colour as well.
  function hatched() {
    return pattern(lake.colour("lit"), lake.colour("deep"), 8, function (ctx, size) {
      ctx.lineWidth = 1.4;
      ctx.beginPath();
      for (const from of [-size, 0, size]) {
        ctx.moveTo(from, size);
        ctx.lineTo(from + size, 0);
      }
      ctx.stroke();
    });
  }

  const Bed = lake.Shape.extend({
    _updatePath: function () {
      const renderer = this._renderer, ctx = renderer._ctx;
      if (!renderer._drawing || !drawn) return;
      ctx.save();
      this._trace(ctx);
      ctx.clip("evenodd");
      this._paint(ctx, this._map, renderer._bounds, this.options.view);
      ctx.restore();
    },

    _paint: function (ctx, map, bounds, view) {
      const fill = function (region, style) {
        ctx.beginPath();
        walk(ctx, map, bounds, region);
        ctx.fillStyle = style;
        ctx.fill("evenodd");
      };
      const everywhere = function (style) {
        ctx.fillStyle = style;
        ctx.fillRect(bounds.min.x, bounds.min.y, bounds.max.x - bounds.min.x, bounds.max.y - bounds.min.y);
      };
      const lit = drawn.lit && view === "deep", falls = drawn.stage < 0, bands = drawn.edges.length - 1;
      const tint = function (i) { return lit ? lake.colour("unlit") : view === "deep" ? lake.tint(bands > 1 ? i / (bands - 1) : 0.5) : lake.colour("water"); };
      everywhere(falls ? lake.dryPattern(lit ? lake.colour("unlit") : null) : tint(0));
      for (let i = falls ? 0 : 1; i < bands && (view === "deep" || i === 0); i++) fill(drawn.wet[i], tint(i));
      if (lit) {
        fill(drawn.lit[0], hatched());
        fill(drawn.lit[1], lake.colour("unlit"));
        this._line(ctx, map, bounds, drawn.lit[0].concat(drawn.lit[1]), "deep", lake.distance(map) === "far" ? 1.1 : 2, []);
      }
      if (falls) this._line(ctx, map, bounds, drawn.wet[0], lit ? "soft" : "shore", 1.2, [2, 3]);
    },

    _line: function (ctx, map, bounds, lines, colour, width, dash) {
      ctx.beginPath();
      walk(ctx, map, bounds, lines);
      ctx.strokeStyle = lake.colour(colour);
      ctx.lineWidth = width;
      ctx.setLineDash(dash);
      ctx.stroke();
    },
  });

  const Lines = lake.Shape.extend({
    _updatePath: function () {
      const renderer = this._renderer, major = this.options.major, part = this.options.part;
      if (!renderer._drawing || !drawn) return;
      renderer._ctx.beginPath();
      for (const line of drawn.lines) {
        if (line.major === major) walk(renderer._ctx, this._map, renderer._bounds, line[part]);
      }
      renderer._fillStroke(renderer._ctx, this);
    },
  });

  // What nobody sounded is cut out of the bed, even and odd: whether it is dry is not known either.
  lake.bedLayer = function (options) {
    return new Bed(ATLAS.water.concat(ATLAS.unsounded).flat(), options);
  };

  lake.linesLayer = function (major, part, options) {
    return new Lines([], Object.assign({ major: major, part: part }, options));
  };
})();
