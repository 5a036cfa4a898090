// Distances, directions and written positions, on WGS 84. Places are [latitude, longitude] in degrees.
"use strict";
(function () {
  const A_M = 6378137, F = 1 / 298.257223563;
  const TURN = Math.PI / 180;
  const POINTS = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];

  function haversine(x) {
    const s = Math.sin(x / 2);
    return s * s;
  }

  // Lambert's formula for long lines (Lambert 1942): the sphere of the reduced latitudes with the flattening's
  // correction, good to some metres over thousands of kilometres. The bearing is that of the same sphere.
  lake.metresBetween = function (a, b) {
    const p = Math.atan((1 - F) * Math.tan(a[0] * TURN)), q = Math.atan((1 - F) * Math.tan(b[0] * TURN));
    const h = haversine(q - p) + Math.cos(p) * Math.cos(q) * haversine((b[1] - a[1]) * TURN);
    const angle = 2 * Math.asin(Math.min(1, Math.sqrt(h)));
    if (angle === 0) return 0;
    const mean = (p + q) / 2, half = (q - p) / 2;
    const x = (angle - Math.sin(angle)) * Math.pow(Math.sin(mean) * Math.cos(half), 2) / Math.pow(Math.cos(angle / 2), 2);
    const y = (angle + Math.sin(angle)) * Math.pow(Math.cos(mean) * Math.sin(half), 2) / Math.pow(Math.sin(angle / 2), 2);
    return A_M * (angle - F / 2 * (x + y));
  };

  // Degrees clockwise from true north, 0 to 360, at `a`.
  lake.bearingTo = function (a, b) {
    const p = Math.atan((1 - F) * Math.tan(a[0] * TURN)), q = Math.atan((1 - F) * Math.tan(b[0] * TURN));
    const east = (b[1] - a[1]) * TURN;
    const turn = Math.atan2(Math.sin(east) * Math.cos(q), Math.cos(p) * Math.sin(q) - Math.sin(p) * Math.cos(q) * Math.cos(east));
    return (turn / TURN + 360) % 360;
  };

  // Metres of a degree of latitude and of longitude there: enough for what lies within sight (Bomford, Geodesy, from memory).
  function degreeMetres(lat) {
    const e2 = F * (2 - F), s = Math.sin(lat * TURN), w = 1 - e2 * s * s;
    return [TURN * A_M * (1 - e2) / Math.pow(w, 1.5), TURN * A_M * Math.cos(lat * TURN) / Math.sqrt(w)];
  }

  // The place on a line that is nearest to `at`, and how far it is.
  lake.nearestOnLine = function (at, points) {
    const m = degreeMetres(at[0]);
    let best = null, least = Infinity;
    const flat = function (p) { return [(p[1] - at[1]) * m[1], (p[0] - at[0]) * m[0]]; };
    for (let i = 0; i + 1 < points.length; i++) {
      const a = flat(points[i]), b = flat(points[i + 1]), dx = b[0] - a[0], dy = b[1] - a[1], long = dx * dx + dy * dy;
      const share = long ? Math.min(Math.max(-(a[0] * dx + a[1] * dy) / long, 0), 1) : 0;
      const x = a[0] + share * dx, y = a[1] + share * dy, away = Math.hypot(x, y);
      if (away < least) {
        least = away;
        best = [at[0] + y / m[0], at[1] + x / m[1]];
      }
    }
    return best && { at: best, metres: least };
  };

  // The nearest bank of the lake: reach, place and metres.
  lake.nearestBank = function (at) {
    const m = degreeMetres(at[0]);
    let best = null;
    for (const reach of ATLAS.reaches) {
      const b = reach.box;
      const off = Math.hypot(Math.max(b[0] - at[1], at[1] - b[2], 0) * m[1], Math.max(b[1] - at[0], at[0] - b[3], 0) * m[0]);
      if (best && off >= best.metres) continue;
      const found = lake.nearestOnLine(at, reach.points);
      if (found && (!best || found.metres < best.metres)) best = { reach: reach, at: found.at, metres: found.metres };
    }
    return best;
  };

  lake.compassWords = function (bearing) {
    return lake.word("script-compass", { point: POINTS[Math.round(bearing / 45) % 8] });
  };

  // The depth that the map has there, below the level set, in words; "" where it is not known.
  lake.depthTold = function (at) {
    if (!lake.grid()) return "";
    const depth = lake.depthAt(at[0], at[1], lake.water.stage);
    if (depth !== depth) return "";
    return depth < 0 ? lake.depthWords(depth) : lake.word("script-depth-told", { depth: lake.depthWords(depth), level: lake.levelNow() });
  };

  // Written positions ----------------------------------------------------------------------------------------------

  lake.positionWords = function (at) {
    const letter = function (value, letters) { return lake.number(Math.abs(value), 5) + "° " + letters[value < 0 ? 1 : 0]; };
    return letter(at[0], lake.word("script-earth-north-south").split("")) + ", " + letter(at[1], lake.word("script-earth-east-west").split(""));
  };

  // Degrees, minutes and seconds as numbers to degrees; null where they cannot be.
  function degreesOf(numbers, most) {
    if (!numbers.length || numbers.length > 3) return null;
    const sign = numbers[0].startsWith("-") ? -1 : 1, parts = numbers.map(function (text) { return Math.abs(Number(text)); });
    for (let i = 1; i < parts.length; i++) {
      if (!(parts[i] < 60) || /^[-+]/.test(numbers[i]) || !Number.isInteger(parts[i - 1])) return null;
    }
    const value = sign * parts.reduce(function (sum, part, i) { return sum + part / Math.pow(60, i); }, 0);
    return Math.abs(value) <= most ? value : null;
  }

  function hemisphere(tokens, letters) {
    const at = tokens.findIndex(function (token) { return letters.includes(token); });
    return at < 0 ? null : at;
  }

  // A letter stands before or after its own numbers.
  function lettered(tokens) {
    const isLetter = function (token) { return /[NSEW]/.test(token); };
    const places = tokens.map(function (token, i) { return isLetter(token) ? i : -1; }).filter(function (i) { return i >= 0; });
    if (places.length !== 2) return null;
    const before = places[0] === 0;
    const cut = before ? places[1] : places[0] + 1, parts = [tokens.slice(0, cut), tokens.slice(cut)];
    if (!before && places[1] !== tokens.length - 1) return null;
    const found = {};
    for (const part of parts) {
      const letter = part.find(isLetter), numbers = part.filter(function (token) { return !isLetter(token); });
      if (!letter || numbers.some(function (text) { return /^[-+]/.test(text); })) return null;
      const upright = "NS".includes(letter), value = degreesOf(numbers, upright ? 90 : 180);
      if (value === null) return null;
      found[upright ? "lat" : "lon"] = "SW".includes(letter) ? -value : value;
    }
    return found.lat === undefined || found.lon === undefined ? null : [found.lat, found.lon];
  }

  function halved(tokens) {
    if (tokens.length % 2) return null;
    const lat = degreesOf(tokens.slice(0, tokens.length / 2), 90), lon = degreesOf(tokens.slice(tokens.length / 2), 180);
    return lat === null || lon === null ? null : [lat, lon];
  }

  // A position as instruments and people write it: degrees, degrees and minutes, or with seconds, with signs or letters,
  // latitude first unless letters tell; comma or point. Null for anything else.
  lake.readPosition = function (text) {
    const plain = text.toUpperCase().replace(/\u2212/g, "-").replace(/O/g, "E");
    if (plain.length > 80 || /[^\d\s.,;:°º'′’"″”NSEW+-]/.test(plain)) return null;
    const tokens = plain.match(/[-+]?\d+(?:[.,]\d+)?|[NSEW]/g) || [];
    // What is left between the tokens are signs of minutes and the like; a loose sign or point is a slip.
    if (/[-+.]/.test(plain.replace(/[-+]?\d+(?:[.,]\d+)?|[NSEW]/g, " "))) return null;
    const numbers = tokens.map(function (token) { return token.replace(",", "."); });
    return hemisphere(numbers, ["N", "S", "E", "W"]) === null ? halved(numbers) : lettered(numbers);
  };
})();
