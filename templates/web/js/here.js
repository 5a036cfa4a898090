// "Where am I": the reader's own place, from the device, a tap or typed. It stays on the device: it is neither in the
// address nor stored, and nothing watches once the reader says stop.
"use strict";
(function () {
  // Farther from the lake than this the map stays with the lake.
  const NEAR_M = 20000;
  const room = document.getElementById("here"), door = document.querySelector("[data-here]");
  const state = room.querySelector("[data-here-state]"), words = room.querySelector("[data-here-words]");
  const form = room.querySelector("[data-here-form]"), wrong = room.querySelector("[data-here-wrong]");
  const mark = room.querySelector("[data-here-mark]");
  let watch = null, place = null, picking = null, seen = false;

  function say(id, facts) {
    state.textContent = id ? lake.word(id, facts) : "";
  }

  // The place ------------------------------------------------------------------------------------------------------

  lake.herePlace = function () {
    return place && place.at;
  };

  function put(at, accuracy, from) {
    place = { at: at, accuracy: accuracy, from: from };
    const first = !seen;
    seen = true;
    tell();
    if (first) bringIntoSight();
    lake.repaint();
  }

  // The place and what it is measured to, clear of the card; only once, so that the reader may look elsewhere.
  function bringIntoSight() {
    const bank = lake.nearestBank(place.at), to = target(), beside = room.offsetWidth < lake.map.getSize().x / 2;
    if (bank.metres > NEAR_M) return;
    lake.map.invalidateSize({ pan: false });
    lake.map.fitBounds(L.latLngBounds([place.at, (to || bank).at]), {
      paddingTopLeft: beside ? [room.offsetWidth + 40, 40] : [40, room.offsetHeight + 24],
      paddingBottomRight: [60, 70],
      maxZoom: 17,
      animate: !lake.still,
    });
  }

  function line(parts) {
    const item = document.createElement("li");
    item.append.apply(item, parts);
    return item;
  }

  function strong(text) {
    const node = document.createElement("b");
    node.textContent = text;
    return node;
  }

  function wayWords(to) {
    return lake.word("script-here-way", {
      away: lake.distanceWords(lake.metresBetween(place.at, to)),
      way: lake.compassWords(lake.bearingTo(place.at, to)),
      degrees: String(Math.round(lake.bearingTo(place.at, to)) % 360).padStart(3, "0"),
    });
  }

  // What the reader chose, nearest to the point: a mark, a landmark, a photograph, a bank.
  function target() {
    const chosen = lake.chosen, landmark = lake.landmarkById.get(chosen.landmark), photo = lake.photoById.get(chosen.photo);
    if (chosen.mark) return { words: lake.word("script-here-to-mark", { name: chosen.mark.name }), at: chosen.mark.at };
    if (landmark) return { words: lake.landmarkTitle(landmark), at: [landmark.at[1], landmark.at[0]] };
    if (photo && !chosen.asked) return { words: lake.word("script-here-to-photo", { page: photo.page, number: photo.number }), at: [photo.at[1], photo.at[0]] };
    const reach = lake.reachById.get(chosen.asked || (chosen.reaches || [])[0]);
    return reach ? { words: lake.word("script-here-to-bank", { id: reach.id }), at: lake.nearestOnLine(place.at, reach.points).at } : null;
  }

  function bankLink(bank) {
    const link = document.createElement("a");
    link.href = "#" + lake.anchor("reach", bank.reach.id);
    link.textContent = lake.word("script-here-bank", { id: bank.reach.id, name: bank.reach.name });
    return link;
  }

  function whereWords() {
    const text = lake.positionWords(place.at);
    return place.accuracy ? lake.word("script-here-within", { position: text, accuracy: lake.distanceWords(place.accuracy) }) : text;
  }

  // The answer goes before the position: what lies how far which way.
  function tell() {
    if (!place) return words.replaceChildren();
    const bank = lake.nearestBank(place.at), to = target(), tile = lake.tileAt(L.latLng(place.at)), found = [];
    if (to) found.push(line([strong(to.words + ": "), wayWords(to.at)]));
    found.push(line([bankLink(bank), ": " + wayWords(bank.at)]));
    found.push(line([(tile ? lake.word("script-here-tile", { tile: tile.label }) : lake.word("script-here-no-tile")) + " " + depthWords() + " " + whereWords() + "."]));
    if (bank.metres > NEAR_M) found.unshift(line([strong(lake.word("script-here-far"))]));
    words.replaceChildren.apply(words, found);
    mark.hidden = false;
  }

  function depthWords() {
    const told = lake.depthTold(place.at);
    return told ? lake.word("script-here-depth", { depth: told }) : "";
  }

  // Asking the device ----------------------------------------------------------------------------------------------

  function fixed(found) {
    say("script-here-following");
    put([found.coords.latitude, found.coords.longitude], found.coords.accuracy || null, "device");
  }

  // Why the device says nothing, in words, and what to do instead.
  function failed(error) {
    stopWatching();
    const file = location.protocol === "file:";
    if (error.code === 1) say(file ? "script-here-refused-file" : "script-here-refused");
    else say(error.code === 3 ? "script-here-late" : "script-here-unknown");
  }

  function ask() {
    if (!navigator.geolocation) return say("script-here-none");
    if (!isSecureContext) return say("script-here-insecure");
    say("script-here-asking");
    watch = navigator.geolocation.watchPosition(fixed, failed, { enableHighAccuracy: true, timeout: 30000, maximumAge: 5000 });
  }

  function stopWatching() {
    if (watch !== null) navigator.geolocation.clearWatch(watch);
    watch = null;
  }

  function open() {
    room.hidden = false;
    seen = false;
    door.setAttribute("aria-pressed", "true");
    if (lake.root.dataset.sheet === "half") lake.sheet("low");
    ask();
  }

  function stop() {
    stopWatching();
    endPick();
    place = null;
    room.hidden = true;
    door.setAttribute("aria-pressed", "false");
    tell();
    lake.repaint();
    lake.say(lake.word("script-here-stopped"));
  }

  // Taking a place from the map: a tap, or Enter for its middle ----------------------------------------------------

  lake.pickPlace = function (take) {
    picking = take;
    document.querySelector(".lake").classList.add("picking");
    lake.map.getContainer().focus();
    lake.say(lake.word("script-here-pick"));
    lake.repaint();
  };

  function endPick() {
    picking = null;
    document.querySelector(".lake").classList.remove("picking");
    lake.repaint();
  }

  // Whether a tap on the map was waited for; then nothing else is chosen by it.
  lake.takeTap = function (latlng) {
    if (!picking) return false;
    const take = picking;
    endPick();
    take([latlng.lat, latlng.lng]);
    return true;
  };

  lake.map.getContainer().addEventListener("keydown", function (event) {
    if (!picking) return;
    if (event.key === "Enter" && lake.takeTap(lake.map.getCenter())) event.preventDefault();
    if (event.key === "Escape") {
      event.stopPropagation();
      endPick();
    }
  });

  // On the map -----------------------------------------------------------------------------------------------------

  function cross(ctx, map) {
    const p = map.containerPointToLayerPoint(map.getSize().divideBy(2));
    ctx.beginPath();
    ctx.moveTo(p.x - 16, p.y);
    ctx.lineTo(p.x + 16, p.y);
    ctx.moveTo(p.x, p.y - 16);
    ctx.lineTo(p.x, p.y + 16);
    ctx.strokeStyle = lake.colour("ink");
    ctx.lineWidth = 2;
    ctx.stroke();
  }

  function circle(ctx, p, radius, width, colour) {
    ctx.beginPath();
    ctx.arc(p.x, p.y, radius, 0, 2 * Math.PI);
    ctx.strokeStyle = lake.colour(colour);
    ctx.lineWidth = width;
    ctx.stroke();
  }

  lake.onInk(function (ctx, map, paper) {
    if (picking) cross(ctx, map);
    if (!place) return;
    const p = paper.at(place.at), to = target();
    if (to) {
      const end = paper.at(to.at);
      ctx.setLineDash([7, 5]);
      ctx.beginPath();
      ctx.moveTo(p.x, p.y);
      ctx.lineTo(end.x, end.y);
      ctx.strokeStyle = lake.colour("ink");
      ctx.lineWidth = 1.6;
      ctx.stroke();
      ctx.setLineDash([]);
    }
    if (place.accuracy) circle(ctx, p, place.accuracy / lake.metresPerPixel(map), 1.4, "ink");
    circle(ctx, p, 9, 6, "paper");
    circle(ctx, p, 9, 2.6, "ink");
    ctx.beginPath();
    ctx.arc(p.x, p.y, 3.6, 0, 2 * Math.PI);
    ctx.fillStyle = lake.colour("ink");
    ctx.fill();
    paper.keep(p.x, p.y, 26, 26);
  });

  // What is chosen is the answer's other end: it is told anew when the reader goes elsewhere.
  lake.tellHere = function () {
    if (!room.hidden) tell();
  };

  // Controls -------------------------------------------------------------------------------------------------------

  door.addEventListener("click", function () {
    if (room.hidden) open();
    else stop();
  });
  room.querySelector("[data-here-stop]").addEventListener("click", function () {
    stop();
    door.focus();
  });
  room.querySelector("[data-here-tap]").addEventListener("click", function () {
    stopWatching();
    say("script-here-pick");
    lake.pickPlace(function (at) {
      say("script-here-tapped");
      put(at, null, "tap");
    });
  });
  room.querySelector("[data-here-type]").addEventListener("click", function (event) {
    form.hidden = !form.hidden;
    event.currentTarget.setAttribute("aria-expanded", String(!form.hidden));
    if (!form.hidden) form.querySelector("input").focus();
  });
  function showTyped() {
    const at = lake.readPosition(form.querySelector("input").value);
    wrong.textContent = at ? "" : lake.word("script-here-wrong");
    if (!at) return;
    stopWatching();
    say("script-here-typed");
    seen = false;
    put(at, null, "typed");
  }

  form.querySelector("[data-here-show]").addEventListener("click", showTyped);
  form.querySelector("input").addEventListener("keydown", function (event) { if (event.key === "Enter") showTyped(); });
  room.addEventListener("keydown", function (event) {
    // Arrows and Escape in the card turn no pages.
    event.stopPropagation();
    if (event.key === "Escape") {
      stop();
      door.focus();
    }
  });
  mark.addEventListener("click", function () { lake.markPlace(place.at); });
})();
