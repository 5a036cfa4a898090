// "The lake is down today", and "only this depth": what a reader sets, and every word that must follow it.
"use strict";
(function () {
  const UNIT = ATLAS.depthUnit === "feet"
    ? { m: 0.3048, digits: 1, nudge: 0.5, highest: 6, band: [5, 10], round: 1 }
    : { m: 1, digits: 2, nudge: 0.1, highest: 2, band: [2, 3], round: 0.1 };
  const START = ATLAS.shownStage, DRY = lake.word("script-dry");
  const box = document.querySelector(".level:not(.level-why)");
  const per = Math.pow(10, UNIT.digits);
  // In the reader's unit, above full; null is the level of the edition. `lit`: from and to, or null.
  let height = null, lit = null;
  let put = [];

  function find(name) {
    return box && box.querySelector("[data-" + name + "]");
  }

  function stage() {
    return height === null ? START : height * UNIT.m;
  }

  // Words: as the book's, with its numbers -----------------------------------------------------------------------

  function high(value, digits) {
    return lake.length(digits === undefined ? value : lake.number(value, digits), ATLAS.depthUnit);
  }

  function levelWords(metres) {
    const value = Number(Math.abs(metres / UNIT.m).toFixed(UNIT.digits));
    if (value === 0) return lake.word("script-at-full");
    return lake.word(metres < 0 ? "script-below-full" : "script-above-full", { height: high(value, UNIT.digits) });
  }

  // Rounded toward the shallower; ground above the water is dry.
  function depthWords(metres) {
    const number = Math.floor(metres / UNIT.m / UNIT.round + 1e-9) * UNIT.round;
    return number < -1e-9 ? DRY : high(number, UNIT.round === 1 ? 0 : 1);
  }

  lake.depthWords = depthWords;
  lake.levelNow = level;

  // The level that is set, metres above full, and in words; who must follow it calls lake.onLevel.
  lake.stage = stage;
  lake.stageWords = function () {
    return levelWords(stage());
  };
  const followers = [];
  lake.onLevel = function (follow) {
    followers.push(follow);
  };

  function level() {
    return Math.abs(stage()) < 1e-9 ? ATLAS.told.datum : lake.word("script-standing", { level: levelWords(stage()) });
  }

  function fill(text, words) {
    return text.replace(/\{(\d+)\}/g, function (_, number) { return words[number]; }).replace("{level}", level());
  }

  // A note's sentences for the level set; data.js has their texts, with slots for the depths.
  lake.retold = function (note, profile) {
    const words = note.depths.map(function (depth) { return depthWords(depth / 1e5 + stage()); }), found = [];
    for (const line of note.lines) {
      const dry = line.length > 3 ? words.slice(0, 3).filter(function (word) { return word === DRY; }).length : 0;
      const text = ATLAS.told.texts[line[2 + dry]], slots = (text.match(/\{\d+\}/g) || []).map(function (slot) { return words[slot.slice(1, -1)]; });
      if (line[1] && slots[0] === slots[1]) continue;
      found.push({ strong: Boolean(line[0]), text: fill(text, words) });
    }
    const reached = note.reached && profile ? reachedWords(profile) : "";
    if (reached) found.push({ strong: false, text: reached });
    return found;
  };

  function reachedWords(profile) {
    const depths = lake.unpackDepths(profile, 1, profile.count, 10000), out = lake.unpackDepths({ depths: profile.out }, 1, profile.count, 100);
    let which = 0;
    const far = [];
    for (const asked of ATLAS.told.reached.depths) {
      const at = firstReached(out, depths, asked - stage());
      which = 2 * which + (at === null ? 0 : 1);
      if (at !== null) far.push(lake.distanceWords(at));
    }
    return fill(ATLAS.told.reached.texts[which], far);
  }

  // Beyond a stretch that is not known nobody can say where a depth was first reached.
  function firstReached(out, depths, asked) {
    for (let i = 0; i < depths.length; i++) {
      if (!(depths[i] >= asked)) continue;
      if (i === 0) return out[0];
      const before = depths[i - 1];
      if (!(before < asked)) return null;
      return out[i - 1] + (asked - before) / (depths[i] - before) * (out[i] - out[i - 1]);
    }
    return null;
  }

  // The page beside the map ----------------------------------------------------------------------------------------

  function paragraph(className, text) {
    const node = document.createElement("p");
    node.className = className;
    node.textContent = text;
    return node;
  }

  function insert(node, parent, before) {
    parent.insertBefore(node, before);
    put.push(function () { node.remove(); });
  }

  function retell(section, note, profile) {
    const words = section.querySelector("p"), was = Array.from(words.childNodes);
    words.replaceChildren();
    lake.retold(note, profile).forEach(function (sentence, i) {
      const node = document.createElement(sentence.strong ? "strong" : "span");
      node.textContent = sentence.text;
      words.append(i ? " " : "", node);
    });
    put.push(function () { words.replaceChildren.apply(words, was); });
  }

  lake.clearLevel = function () {
    for (const undo of put.reverse()) undo();
    put = [];
  };

  // What a page says is for the level of the edition: where another is set each depth is told anew, or said to be old.
  lake.tellLevel = function (node) {
    if (height === null) return;
    const told = node.matches(".tile") ? {} : (node.matches(".bare-reach")
      ? ATLAS.told.bare[lake.chosen.asked] : ATLAS.told.pages[node.dataset.page]) || {};
    const notes = node.matches(".tile") ? [] : Array.from(node.querySelectorAll(".note-depth, .note-bed, .note-layers"));
    notes.forEach(function (section) {
      const note = told[section.matches(".note-depth") ? "depth" : section.matches(".note-bed") ? "bed" : "layers"];
      if (note) retell(section, note, ATLAS.told.profiles[node.dataset.page]);
      else insert(paragraph("level-old", lake.word("script-old", { level: levelWords(START) })), section, section.querySelector("p"));
      if (note && section.matches(".note-depth")) insert(paragraph("level-said", saidWords()), section, section.querySelector("p"));
    });
    for (const drawing of node.querySelectorAll(node.matches(".tile") ? ".tile-head .drawing" : ".drawing")) {
      insert(paragraph("level-old drawn", lake.word("script-drawn", { level: levelWords(START), change: changeWords(stage() - START) })), drawing.parentNode, drawing.nextSibling);
    }
    const caption = node.querySelector(".figure.chosen .caption"), photo = lake.photoById.get(lake.chosen.photo);
    if (caption && photo) insert(paragraph("level-then", thenWords(photo.stage)), caption.parentNode, caption.nextSibling);
  };

  function saidWords() {
    const flooded = stage() > 1e-9 ? " " + lake.word("script-level-flooded") : "";
    return lake.word("script-level-said", { level: levelWords(stage()) }) + flooded;
  }

  function changeWords(metres) {
    const height = high(Math.abs(metres / UNIT.m), UNIT.digits);
    return lake.word(metres < 0 ? "script-lower" : "script-higher", { height: height });
  }

  function thenWords(then) {
    if (then === null) return lake.word("script-then-unknown");
    const more = then - stage(), same = Math.abs(more / UNIT.m) < 0.5 / per;
    return same ? lake.word("script-then-same", { level: levelWords(then) }) : lake.word("script-then", { level: levelWords(then), change: changeWords(more) });
  }

  // Key, list and strip --------------------------------------------------------------------------------------------

  const keys = new Map();

  function key(name, nodes) {
    const place = document.querySelector("[data-key=" + name + "]");
    if (!place) return;
    if (!keys.has(name)) keys.set(name, Array.from(place.childNodes));
    place.replaceChildren.apply(place, nodes || keys.get(name));
  }

  function ofTemplate(id, more) {
    return [document.importNode(document.getElementById(id).content, true), more];
  }

  function litKey() {
    return lake.word(stage() < 0 ? "script-lit-key-dry" : "script-lit-key", { band: litWords() });
  }

  function tellKey() {
    const edges = lake.waterEdges(), wet = edges && edges.length > 1;
    key("below", height === null ? null : [level()]);
    key("deepest", height !== null && wet ? [depthWords(edges[edges.length - 2])] : null);
    key("ramp", lit ? ofTemplate("key-lit", litKey() + " ") : height !== null && !wet ? [lake.word("script-all-dry") + " "] : null);
    key("dry", height === null ? null : stage() < 0 && !lit ? ofTemplate("key-dry", " ") : [""]);
  }

  const ofList = paragraph("level-list", "");
  lake.whenWhole(function () {
    document.getElementById("list").prepend(ofList);
  });

  function tellList() {
    ofList.hidden = height === null;
    ofList.textContent = height === null ? "" : lake.word("script-list-told", { printed: levelWords(START), level: levelWords(stage()) });
  }

  const printedDepths = ATLAS.reaches.map(function (reach) { return reach.depth; });

  function tellStrip() {
    ATLAS.reaches.forEach(function (reach, i) {
      reach.depth = printedDepths[i] === null ? null : Math.max(printedDepths[i] + stage() - START, 0);
    });
    lake.drawStrip();
  }

  // Setting --------------------------------------------------------------------------------------------------------

  function litWords() {
    return lake.word("script-lit", { from: lit[0], number: lit[1], unit: ATLAS.depthUnit });
  }

  function deepest() {
    return Math.ceil(lake.grid().deepest / UNIT.m);
  }

  function hint(text) {
    const node = find("level-hint");
    node.hidden = !text;
    node.textContent = text;
  }

  function limited(value) {
    const low = -deepest(), within = Math.min(Math.max(value, low), UNIT.highest);
    hint(value < low ? lake.word("script-too-low", { depth: high(-low) }) :
      value > UNIT.highest ? lake.word("script-too-high", { height: high(UNIT.highest) }) : "");
    return Math.round(within * per) / per;
  }

  function show() {
    const now = Math.round(stage() / UNIT.m * per) / per;
    if (document.activeElement !== find("lake-height")) find("lake-height").value = Math.abs(now).toFixed(UNIT.digits);
    if (now) find("lake-side").value = now < 0 ? "-1" : "1";
    find("level-words").textContent = levelWords(stage());
    find("lit-words").textContent = lit ? litWords() : lake.word("script-all-depths");
    const fields = ["lit-from", "lit-to"];
    fields.forEach(function (name, i) {
      if (document.activeElement !== find(name)) find(name).value = lit ? lit[i] : "";
    });
    lake.root.classList.toggle("own-level", height !== null);
  }

  function draw() {
    const before = [lake.ownWater(), Boolean(lake.water.lit)].join();
    lake.setWater(stage(), lit && lit.map(function (value) { return value * UNIT.m; }));
    if ([lake.ownWater(), Boolean(lake.water.lit)].join() === before) lake.redrawGround();
    else lake.showGround(lake.root.dataset.view);
    lake.repaint();
  }

  function apply() {
    draw();
    tellStrip();
    tellKey();
    tellList();
    lake.clearLevel();
    const node = document.querySelector(".page.chosen, .tile.chosen");
    if (node) lake.tellLevel(node);
    show();
    for (const follow of followers) follow();
  }

  function set(value) {
    height = limited(value);
    if (Math.abs(height * UNIT.m - START) < UNIT.m / per / 2) height = null;
    apply();
    lake.noteAddress();
    lake.say(height === null ? lake.word("script-level-printed", { level: levelWords(START) }) : saidWords());
  }

  function light(from, to) {
    const most = deepest() + UNIT.highest;
    lit = from === null || !(to > from) ? null : [Math.max(from, 0), Math.min(to, most)];
    apply();
    lake.noteAddress();
    lake.say(lit ? lake.word("script-lit-said", { band: litWords() }) : lake.word("script-lit-all"));
  }

  // What an address asks for, and what of it cannot be set.
  function take(asked) {
    const wrong = [], value = Number(asked.get("level") || NaN), band = /^(\d+(?:\.\d+)?)-(\d+(?:\.\d+)?)$/.exec(asked.get("lit") || "");
    if (isFinite(value)) height = limited(value);
    else if (asked.has("level")) wrong.push("level");
    if (height !== null && Math.abs(height * UNIT.m - START) < UNIT.m / per / 2) height = null;
    if (band && Number(band[2]) > Number(band[1])) lit = [Number(band[1]), Number(band[2])];
    else if (asked.has("lit")) wrong.push("lit");
    if (lit) lake.root.dataset.view = "deep";
    apply();
    return wrong.map(function (key) {
      const said = { asked: key + "=" + lake.shortened(asked.get(key)) };
      return lake.word(key === "lit" ? "script-address-no-band" : "script-address-no-level", said);
    });
  }

  // Controls -------------------------------------------------------------------------------------------------------

  function open(name) {
    for (const door of box.querySelectorAll("[data-opens]")) {
      const row = document.getElementById(door.dataset.opens), opens = door.dataset.opens === name && row.hidden;
      row.hidden = !opens;
      door.setAttribute("aria-expanded", String(opens));
    }
    hint("");
    lake.makeRoom(!document.getElementById(name).hidden);
    // What the first change needs is made ready while the reader thinks.
    lake.readyWater();
    if (name === "level-lit" && !document.getElementById(name).hidden && !lit) light(UNIT.band[0], UNIT.band[1]);
  }

  function typed() {
    const value = parseFloat(find("lake-height").value.replace(",", "."));
    if (isFinite(value)) set(Number(find("lake-side").value) * Math.abs(value));
  }

  function typedBand() {
    const from = parseFloat(find("lit-from").value), to = parseFloat(find("lit-to").value);
    if (isFinite(from) && isFinite(to) && to > from) light(from, to);
  }

  function shift(way) {
    if (!lit) return light(UNIT.band[0], UNIT.band[1]);
    const by = Math.max(lit[1] - lit[0], UNIT.round), from = Math.max(lit[0] + way * by, 0);
    const to = Math.round((from + by) * 100) / 100;
    if (from * UNIT.m < lake.grid().deepest + stage()) light(Math.round(from * 100) / 100, to);
  }

  if (!box) return;
  lake.addressPart({
    keys: ["level", "lit"],
    read: take,
    write: function () { return { level: height, lit: lit && lit.join("-") }; },
  });
  show();
  for (const door of box.querySelectorAll("[data-opens]")) door.addEventListener("click", function () { open(door.dataset.opens); });
  for (const button of box.querySelectorAll("[data-lake]")) {
    button.addEventListener("click", function () { set(stage() / UNIT.m + Number(button.dataset.lake) * UNIT.nudge); });
  }
  for (const button of box.querySelectorAll("[data-lit]")) {
    button.addEventListener("click", function () { shift(Number(button.dataset.lit)); });
  }
  find("lake-full").addEventListener("click", function () { set(0); });
  find("lit-off").addEventListener("click", function () { light(null, null); });
  find("lake-height").addEventListener("input", typed);
  find("lake-height").addEventListener("blur", show);
  find("lake-side").addEventListener("change", typed);
  for (const name of ["lit-from", "lit-to"]) {
    find(name).addEventListener("input", typedBand);
    find(name).addEventListener("blur", show);
  }
  // Keys in a field are the field's; the map and the pages keep theirs.
  box.addEventListener("keydown", function (event) { if (event.target.matches("input, select")) event.stopPropagation(); });
})();
