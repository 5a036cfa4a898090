// Which banks fit what a reader asks, reckoned from the facts that data.js carries (ATLAS.find, in the order of the
// reaches; the same numbers as in atlas.json). Three answers: no; not known there; yes. "No" to one thing is no to all.
"use strict";
(function () {
  const NO = 0, UNKNOWN = 1, FITS = 2;
  // Depths are whole centimetres: half of one is no water.
  const NO_WATER_M = 0.005;
  // Off the land, or onto it, within this much of straight; tenths of a degree. Ours: half of one wind's share and more.
  const STRAIGHT = 450;
  let FACTS = null, depths = null;

  lake.fits = { NO: NO, UNKNOWN: UNKNOWN, FITS: FITS };

  // Opened once, when first asked for or while the reader thinks.
  lake.readyBanks = function () {
    FACTS = ATLAS.find;
    depths = depths || lake.unpackDepths(FACTS, FACTS.stations.length, FACTS.columns, 100);
    return depths;
  };

  // How far from the bank at full the water's edge lies today; NaN where that is not known, Infinity where no water is.
  function edgeOf(i, shift) {
    const row = i * FACTS.columns, count = FACTS.stations[i];
    if (!count) return NaN;
    let before = depths[row] + shift;
    if (before >= -NO_WATER_M) return 0;
    for (let k = 1; k < count; k++) {
      const depth = depths[row + k] + shift;
      if (!(depth <= 0)) return k - 1 - before / (depth - before);
      before = depth;
    }
    return FACTS.closed[i] ? Infinity : NaN;
  }

  // A straight run from depth `a` to depth `b`: the share of it at which it enters the band. Turned round, it leaves.
  function enters(a, b, low, high) {
    return a < low ? (low - a) / (b - a) : a > high ? (high - a) / (b - a) : 0;
  }

  function hit(found, from, to) {
    if (found.from === null) found.from = from;
    else if (from > found.to + 1e-6) found.broken = true;
    found.to = to;
  }

  // Walks the known depths of a profile from the water's edge out to `reach` metres beyond it: `from` and `to` (from the
  // edge) hold the band, null if none does; `broken`: not all of it between them; `unknown`: something there is not known.
  function walk(i, edge, reach, band, shift) {
    const row = i * FACTS.columns, last = FACTS.stations[i] - 1, far = edge + reach;
    const found = { from: null, to: null, broken: false, unknown: last < far && !FACTS.closed[i] }, low = band[0], high = band[1];
    for (let k = Math.floor(edge); k <= far && k <= last; k++) {
      const here = depths[row + k] + shift, next = k < last ? depths[row + k + 1] + shift : NaN;
      if (here !== here) {
        if (k >= edge) found.unknown = true;
      } else if (next === next) {
        const start = Math.max(k, edge), end = Math.min(k + 1, far);
        const a = here + (next - here) * (start - k), b = here + (next - here) * (end - k);
        if ((a > high && b > high) || (a < low && b < low)) continue;
        hit(found, start + enters(a, b, low, high) * (end - start) - edge, end - enters(b, a, low, high) * (end - start) - edge);
      } else if (k >= edge && here >= low && here <= high) {
        hit(found, k - edge, k - edge);
      }
    }
    return found;
  }

  const ANYTHING = [Infinity, Infinity];

  function depthTest(ask) {
    return function (i) {
      const edge = edgeOf(i, ask.shift);
      if (edge !== edge) return UNKNOWN;
      if (edge === Infinity) return NO;
      const found = walk(i, edge, ask.within, ask.depth, ask.shift);
      return found.from !== null ? FITS : found.unknown ? UNKNOWN : NO;
    };
  }

  // The steepest break of a bank, if it begins within the cast and is not dry.
  function breakTest(ask) {
    return function (i) {
      const edge = edgeOf(i, ask.shift), one = FACTS.breaks[i];
      if (edge !== edge) return UNKNOWN;
      if (edge === Infinity) return NO;
      if (one && one[1] > edge && one[0] - edge <= ask.within && one[2] >= ask.least) return FITS;
      return walk(i, edge, ask.within, ANYTHING, ask.shift).unknown ? UNKNOWN : NO;
    };
  }

  function slopeTest(ask) {
    return function (i) {
      const word = FACTS.slope[i];
      return word < 0 ? UNKNOWN : word >= ask.slope[0] && word <= ask.slope[1] ? FITS : NO;
    };
  }

  // The nearest feature of the kind that is under water: [kind, metres off, greatest depth, id]; null if there is none.
  function reliefOf(i, ask) {
    const flat = FACTS.relief[i];
    for (let k = 0; k < flat.length; k += 4) {
      if ((ask.kind < 0 || flat[k] === ask.kind) && flat[k + 1] <= ask.near && flat[k + 2] + ask.shift > 0) return flat.slice(k, k + 4);
    }
    return null;
  }

  function reliefTest(ask) {
    return function (i) {
      if (reliefOf(i, ask)) return FITS;
      return !FACTS.stations[i] || walk(i, 0, ask.near, ANYTHING, ask.shift).unknown ? UNKNOWN : NO;
    };
  }

  function turned(a, b) {
    return Math.abs(((a - b) % 3600 + 5400) % 3600 - 1800);
  }

  function facesTest(ask) {
    return function (i) { return Math.floor((FACTS.faces[i] + 225) / 450) % 8 === ask.faces ? FITS : NO; };
  }

  // A bank in the lee faces the way the wind goes; the other way round it faces the wind.
  function windTest(ask) {
    const way = ask.wind * 450 + (ask.lee ? 1800 : 0);
    return function (i) { return turned(FACTS.faces[i], way) <= STRAIGHT ? FITS : NO; };
  }

  function tileTest(ask) {
    return function (i) { return FACTS.tile[i] === ask.tile ? FITS : NO; };
  }

  function shownTest(ask) {
    const sorts = { some: [1, 2, 3], air: [1, 3], shore: [2, 3], none: [0] }[ask.shown];
    return function (i) { return sorts.includes(FACTS.shown[i]) ? FITS : NO; };
  }

  function stateTest(ask) {
    return function (i) { return ATLAS.reaches[i].state === ask.photographed ? FITS : NO; };
  }

  function soundedTest(ask) {
    return function (i) {
      const share = ATLAS.reaches[i].share;
      return share === null ? UNKNOWN : lake.sharePart(share) === ask.sounded ? FITS : NO;
    };
  }

  const TESTS = { faces: facesTest, wind: windTest, tile: tileTest, shown: shownTest, photographed: stateTest, slope: slopeTest,
    sounded: soundedTest, relief: reliefTest, depth: depthTest, break: breakTest };

  // `ask` has what is asked, metric: `depth` [from, to], `within` of the water's edge, `least` steepness of a break,
  // `slope` [from, to] as places in ATLAS.find.slopes, `kind` of relief (-1: any) `near` the bank, `faces` and `wind` 0
  // (north) to 7 with `lee`, `tile` as its place, `shown`, `photographed`, `sounded`; `tests` names those that count;
  // `shift`: how much higher the water stands than what the edition tells. Returns an answer for each reach.
  lake.judgeBanks = function (ask) {
    lake.readyBanks();
    const answers = new Uint8Array(FACTS.stations.length).fill(FITS);
    for (const name of Object.keys(TESTS)) {
      if (!ask.tests.includes(name)) continue;
      const test = TESTS[name](ask);
      for (let i = 0; i < answers.length; i++) {
        if (answers[i] !== NO) answers[i] = Math.min(answers[i], test(i));
      }
    }
    return answers;
  };

  // Where the depth asked for lies off a bank, from the water's edge: {from, to, broken}, metres.
  lake.depthOff = function (i, ask) {
    return walk(i, edgeOf(i, ask.shift), ask.within, ask.depth, ask.shift);
  };

  lake.breakOff = function (i, ask) {
    return { from: Math.max(FACTS.breaks[i][0] - edgeOf(i, ask.shift), 0), steepness: FACTS.slopes[FACTS.breaks[i][2]] };
  };

  lake.reliefOff = function (i, ask) {
    const near = reliefOf(i, ask);
    return { name: near[3], edge: near[1] };
  };
})();
