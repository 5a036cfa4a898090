// "Find": the sentences about banks, what they ask, and the address that keeps them. Which banks fit: banks.js; how the
// answers are shown: answers.js.
"use strict";
(function () {
  const FEET = ATLAS.depthUnit === "feet", DEPTH_M = FEET ? 0.3048 : 1, FAR_M = ATLAS.imperial ? 0.3048 : 1;
  const WAYS = ["n", "ne", "e", "se", "s", "sw", "w", "nw"];
  // The casts that may be asked for, and those that are; in the reader's unit.
  const CAST = ATLAS.imperial ? [15, 200] : [5, 60], ROUND = ATLAS.imperial ? [15, 330] : [5, 100];
  const DEFAULTS = ATLAS.imperial ? { within: "100", near: "200" } : { within: "30", near: "60" };
  const BREAKS = { any: 0, steep: 3, "very-steep": 4 };
  const SLOPES = { flat: [0, 0], gentle: [0, 1], moderate: [2, 2], steep: [3, 4], "very-steep": [4, 4] };
  const panel = document.getElementById("find");
  // What is asked, as it stands in the address; `depth` is [from, to] in the reader's unit, to null for any deeper.
  let asked = { depth: null };
  let answers = null, reckoned = null;
  const followers = [];

  function control(name) {
    return panel.querySelector("[data-ask=" + name + "]");
  }

  function selects() {
    return Array.from(panel.querySelectorAll("select[data-ask]")).filter(function (node) { return !DEFAULTS[node.dataset.ask]; });
  }

  // Reckoning ------------------------------------------------------------------------------------------------------

  // In metres, and in the words of banks.js.
  function question() {
    const wind = (asked.wind || "").split("-"), tests = Object.keys(asked).filter(function (name) { return asked[name] && !DEFAULTS[name]; });
    return {
      tests: tests,
      shift: lake.stage() - ATLAS.shownStage,
      depth: asked.depth && [asked.depth[0] * DEPTH_M, asked.depth[1] === null ? Infinity : asked.depth[1] * DEPTH_M],
      within: distance("within"),
      least: BREAKS[asked.break],
      slope: SLOPES[asked.slope],
      kind: ATLAS.find.kinds.indexOf(asked.relief),
      near: distance("near"),
      faces: WAYS.indexOf(asked.faces),
      lee: wind[0] === "lee",
      wind: WAYS.indexOf(wind[1]),
      tile: ATLAS.tiles.findIndex(function (tile) { return tile.id === asked.tile; }),
      shown: asked.shown,
      photographed: asked.photographed,
      sounded: asked.sounded,
    };
  }

  function distance(name) {
    return Number(asked[name] || DEFAULTS[name]) * FAR_M;
  }

  function judge() {
    const ask = question();
    reckoned = ask.tests.length ? ask : null;
    if (reckoned) lake.readyBanks();
    performance.mark("atlas-filter-start");
    answers = reckoned && lake.judgeBanks(reckoned);
    performance.measure("atlas-filter", "atlas-filter-start");
    for (const follow of followers) follow();
  }

  // Whether anything is asked of the banks.
  lake.asking = function () {
    return answers !== null;
  };

  // Whether what is asked rests on the depths off a bank.
  lake.asksDepths = function () {
    return lake.asking() && ["depth", "break", "slope"].some(function (name) { return reckoned.tests.includes(name); });
  };

  // lake.fits.NO, UNKNOWN or FITS; FITS for all while nothing is asked.
  lake.answerOf = function (reach) {
    return answers ? answers[reach.index] : lake.fits.FITS;
  };

  // Reaches that fit, in the order of the shore.
  lake.answers = function () {
    return ATLAS.reaches.filter(function (reach) { return lake.answerOf(reach) === lake.fits.FITS; });
  };

  lake.onAnswers = function (follow) {
    followers.push(follow);
  };

  // Why a bank fits, in words; "" where what is asked is nothing to be told again.
  lake.whyItFits = function (reach) {
    const has = function (name) { return reckoned.tests.includes(name); }, found = [];
    if (has("depth")) found.push(depthWords(lake.depthOff(reach.index, reckoned)));
    if (has("break")) found.push(breakWords(lake.breakOff(reach.index, reckoned)));
    if (has("relief")) found.push(reliefWords(lake.reliefOff(reach.index, reckoned)));
    return found.join(" ");
  };

  function depthWords(at) {
    const id = asked.depth[1] === null
      ? at.broken ? "script-find-depth-open-broken" : "script-find-depth-open"
      : at.broken ? "script-find-depth-broken" : "script-find-depth";
    return lake.word(id, { from: asked.depth[0], to: asked.depth[1], unit: FEET ? "ft" : "m",
      near: lake.distanceWords(at.from), far: lake.distanceWords(at.to) });
  }

  function breakWords(at) {
    return lake.word("script-find-break", { word: at.steepness.replace(" ", "-"), near: lake.distanceWords(at.from) });
  }

  function reliefWords(near) {
    const parts = near.name.split(" ");
    return lake.word("script-find-relief", { kind: parts[0], number: parts[parts.length - 1], near: lake.distanceWords(near.edge) });
  }

  // Controls -------------------------------------------------------------------------------------------------------

  // A distance that an address asks for and no choice has becomes one.
  function offer(node, value) {
    if (Array.from(node.options).some(function (option) { return option.value === value; })) return;
    const option = document.createElement("option"), sample = node.options[0];
    option.value = value;
    option.textContent = sample.textContent.replace(sample.value, lake.number(Number(value), value.includes(".") ? 1 : 0));
    node.append(option);
  }

  function show() {
    for (const node of selects()) node.value = asked[node.dataset.ask] || "";
    for (const name of Object.keys(DEFAULTS)) {
      const node = control(name);
      if (!node) continue;
      offer(node, asked[name] || DEFAULTS[name]);
      node.value = asked[name] || DEFAULTS[name];
    }
    showBand();
    for (const row of panel.querySelectorAll("[data-row]")) row.classList.toggle("set", Boolean(asked[row.dataset.row]));
    panel.querySelector("[data-wind-hint]").hidden = !asked.wind;
    const more = panel.querySelector(".more-asks");
    if (more.querySelector(".set")) more.open = true;
  }

  // A field that is being typed in is left alone, and so is what makes no band: the words beside it say so.
  function showBand() {
    const fields = [control("from"), control("to")];
    if (!fields[0] || fields.includes(document.activeElement) || !panel.querySelector("[data-ask-hint]").hidden) return;
    fields.forEach(function (field, i) { field.value = asked.depth && asked.depth[i] !== null ? asked.depth[i] : ""; });
  }

  function hint(text) {
    const node = panel.querySelector("[data-ask-hint]");
    node.hidden = !text;
    node.textContent = text;
  }

  function set(name, value) {
    asked[name] = value;
    show();
    judge();
    lake.noteAddress();
  }

  // Each end may be left empty: any shallower, any deeper.
  function typedBand() {
    const from = control("from").value, to = control("to").value;
    const wrong = to !== "" && Number(to) <= Number(from);
    hint(wrong ? lake.word("script-find-band") : "");
    if (!wrong) set("depth", from === "" && to === "" ? null : [Number(from), to === "" ? null : Number(to)]);
  }

  lake.clearAsked = function () {
    asked = { depth: null };
    if (control("from")) hint("");
    show();
    judge();
    lake.noteAddress();
  };

  // Address --------------------------------------------------------------------------------------------------------

  const KEYS = ["depth", "within", "break", "slope", "wind", "relief", "near", "faces", "tile", "shown", "photographed", "sounded"];

  function bandOf(text) {
    const found = /^(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)?$/.exec(text);
    if (!found || !control("from") || (found[2] && Number(found[2]) <= Number(found[1]))) return null;
    return [Number(found[1]), found[2] ? Number(found[2]) : null];
  }

  // The value as it can be asked, or null.
  function valueOf(name, text) {
    if (!text) return "";
    if (name === "depth") return bandOf(text);
    const node = control(name), range = name === "within" ? CAST : ROUND;
    if (DEFAULTS[name]) return node && /^\d+(\.\d)?$/.test(text) && Number(text) >= range[0] && Number(text) <= range[1] ? String(Number(text)) : null;
    return node && Array.from(node.options).some(function (option) { return option.value === text; }) ? text : null;
  }

  function take(address) {
    const wrong = [];
    for (const name of KEYS) {
      const text = address.get(name), value = text === null ? undefined : valueOf(name, text);
      if (value === null) wrong.push(lake.word("script-find-wrong", { asked: name + "=" + lake.shortened(text) }));
      else if (value !== undefined) asked[name] = value || null;
    }
    show();
    judge();
    return wrong;
  }

  // A distance stands there only beside what it limits.
  function written() {
    const now = Object.assign({}, asked);
    now.depth = asked.depth && asked.depth[0] + "-" + (asked.depth[1] === null ? "" : asked.depth[1]);
    now.within = asked.depth || asked.break ? asked.within || DEFAULTS.within : null;
    now.near = asked.relief ? asked.near || DEFAULTS.near : null;
    return now;
  }

  for (const node of panel.querySelectorAll("select[data-ask]")) {
    node.addEventListener("change", function () { set(node.dataset.ask, node.value || null); });
  }
  for (const name of ["from", "to"]) {
    if (!control(name)) continue;
    control(name).addEventListener("input", typedBand);
    control(name).addEventListener("blur", showBand);
  }
  panel.querySelector("[data-ask-clear]").addEventListener("click", lake.clearAsked);
  lake.addressPart({ keys: KEYS, read: take, write: written });
  lake.onLevel(judge);
  show();
})();
