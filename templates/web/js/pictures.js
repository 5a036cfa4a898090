// Pictures of the bed under the lines of the map: which one, how strong, and flipped against another at the same view.
"use strict";
(function () {
  const PLACES = 9;
  const STRONGEST = 100, FAINTEST = 20;
  const box = ATLAS.pictures.length ? document.querySelector(".pictures") : null;
  const byId = new Map(ATLAS.pictures.map(function (picture) { return [picture.id, picture]; }));
  const laid = new Map();
  // `shown` and `other` are what Blink flips between; null is the map without a picture.
  const now = { shown: null, other: null, strength: STRONGEST };
  let view = "", lost = false;

  function find(name) {
    return box.querySelector("[data-picture=" + name + "]");
  }

  function nameOf(picture) {
    return picture ? picture.name : lake.word("script-picture-none");
  }

  // The picture under the lines now, or null.
  lake.pictureShown = function () {
    return view === "deep" ? null : now.shown;
  };

  // Tiles --------------------------------------------------------------------------------------------------------

  function isThere(picture, at) {
    const rows = picture.tiles[at.z - picture.zooms[0]];
    if (!rows) return false;
    rows.mask = rows.mask || lake.unpackMask(rows.there, rows.cols * rows.rows);
    const col = at.x - rows.x, row = at.y - rows.y;
    return col >= 0 && col < rows.cols && row >= 0 && row < rows.rows && rows.mask[row * rows.cols + col] === 1;
  }

  // A tile that was never cut is not asked for; one whose file is missing shows nothing and is told in words.
  const Tiles = L.GridLayer.extend({
    createTile: function (at, done) {
      const tile = document.createElement("div"), picture = this.options.picture;
      tile.className = "picture-tile";
      if (!isThere(picture, at)) {
        setTimeout(function () { done(null, tile); }, 0);
        return tile;
      }
      const image = document.createElement("img");
      image.alt = "";
      image.decoding = "async";
      image.onload = function () { done(null, tile); };
      image.onerror = function () {
        image.remove();
        lost = true;
        tell();
        done(null, tile);
      };
      image.src = picture.folder + "/" + at.z + "/" + at.x + "/" + at.y + ".webp";
      tile.append(image);
      return tile;
    },
  });

  function lay(picture) {
    if (!laid.has(picture.id)) {
      laid.set(picture.id, new Tiles({ picture: picture, pane: "pictures", className: "picture", keepBuffer: 1, updateWhenZooming: false,
        minNativeZoom: picture.zooms[0], maxNativeZoom: picture.zooms[1], bounds: boundsOf(picture) }));
    }
    const layer = laid.get(picture.id);
    if (!lake.map.hasLayer(layer)) layer.addTo(lake.map);
    return layer;
  }

  function boundsOf(picture) {
    return L.latLngBounds([].concat.apply([], lake.areas(picture.area).map(function (rings) { return rings[0]; })));
  }

  // What Blink may ask for next stays laid, unseen, so that flipping is at once; all else goes.
  function layAll() {
    const wanted = lake.pictureShown() ? [now.shown, now.other] : [];
    for (const [id, layer] of laid) if (!wanted.includes(byId.get(id))) layer.remove();
    for (const picture of wanted) {
      if (!picture || (picture === now.other && picture !== now.shown && !laid.has(picture.id))) continue;
      const layer = lay(picture);
      layer.setOpacity(now.strength / 100);
      layer.getContainer().classList.toggle("unseen-picture", picture !== now.shown);
    }
  }

  // The words alone, for a map that has no view yet: they take room from it.
  lake.tellPictures = function (asked) {
    view = asked;
    if (box) tell();
  };

  lake.showPictures = function (asked) {
    view = asked;
    layAll();
    if (box) tell();
  };

  // Where it is absent -------------------------------------------------------------------------------------------

  lake.insideAreas = function (areas, lat, lng) {
    return areas.some(function (rings) {
      return rings.reduce(function (is, ring) { return is !== lake.insideRing({ lat: lat, lng: lng }, ring); }, false);
    });
  };

  lake.pictureAbsentAt = function (picture, lat, lng) {
    picture.absentRings = picture.absentRings || lake.areas(picture.absent);
    return lake.insideAreas(picture.absentRings, lat, lng);
  };

  function waterAt(lat, lng) {
    waterAt.rings = waterAt.rings || lake.areas(ATLAS.water);
    return lake.insideAreas(waterAt.rings, lat, lng);
  }

  lake.waterAt = waterAt;

  // Places spread over the view: how many lie in water, and those of them where the picture is absent.
  function absence(picture) {
    const size = lake.map.getSize(), found = { water: 0, absent: [] };
    for (let i = 0; i < PLACES; i++) {
      for (let j = 0; j < PLACES; j++) {
        const p = L.point((i + 0.5) * size.x / PLACES, (j + 0.5) * size.y / PLACES), at = lake.map.containerPointToLatLng(p);
        if (!waterAt(at.lat, at.lng)) continue;
        found.water++;
        if (lake.pictureAbsentAt(picture, at.lat, at.lng)) found.absent.push(at);
      }
    }
    return found;
  }

  function absentWords(picture) {
    return lake.word("script-picture-absent", { kind: picture.kind.replace(" ", "-") });
  }

  lake.absentWords = absentWords;

  // Written on the map in the midst of what is absent of the view, where nothing else stands.
  lake.onInk(function (ctx, map, paper) {
    const picture = lake.pictureShown(), absent = picture ? absence(picture).absent : [];
    if (!absent.length) return;
    const points = absent.map(function (at) { return map.latLngToLayerPoint(at); });
    const middle = points.reduce(function (sum, p) { return sum.add(p); }, L.point(0, 0)).divideBy(points.length);
    points.sort(function (a, b) { return a.distanceTo(middle) - b.distanceTo(middle); });
    ctx.font = "italic " + 15 * lake.letters() + 'px "Source Sans Pro", sans-serif';
    ctx.textAlign = "center";
    ctx.textBaseline = "middle";
    const words = absentWords(picture), width = ctx.measureText(words).width;
    const p = points.find(function (place) { return paper.free(place.x, place.y, width, 22); });
    if (!p) return;
    paper.write(words, p.x, p.y, "ink");
    paper.keep(p.x, p.y, width + 10, 24);
  });

  // Words --------------------------------------------------------------------------------------------------------

  function told() {
    const picture = lake.pictureShown(), sentences = [];
    if (!picture) return sentences;
    if (picture.caution) sentences.push(picture.caution);
    const found = lake.map._loaded ? absence(picture) : { water: 0, absent: [] };
    if (found.water && found.absent.length === found.water) sentences.push(lake.word("script-picture-nowhere", { name: picture.name }));
    if (lost) sentences.push(lake.word("script-picture-lost"));
    return sentences;
  }

  function goThere() {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = lake.word("script-picture-go");
    button.addEventListener("click", function () { lake.map.fitBounds(boundsOf(now.shown), { animate: !lake.still }); });
    return button;
  }

  function tell() {
    const sentences = told(), node = find("told"), picture = lake.pictureShown();
    node.hidden = !sentences.length;
    if (node.textContent !== sentences.join(" ")) {
      node.textContent = sentences.join(" ");
      if (picture && sentences.includes(lake.word("script-picture-nowhere", { name: picture.name }))) node.append(" ", goThere());
    }
    find("words").textContent = nameOf(now.shown);
    find("to").textContent = lake.word("script-blink-to", { name: nameOf(now.other) });
    for (const which of ["shown", "other"]) find(which).value = now[which] ? now[which].id : "";
    find("strength").value = now.strength;
    find("strength").setAttribute("aria-valuetext", lake.word("script-picture-percent", { percent: now.strength }));
    lake.root.classList.toggle("has-picture", Boolean(picture));
    tellKey(picture);
  }

  function tellKey(picture) {
    for (const place of document.querySelectorAll("[data-key=picture]")) {
      const sure = place.closest("[data-for=sure]") ? " " + lake.word("script-cover-under") : "";
      const words = picture ? " " + picture.about + sure : "";
      if (place.textContent !== words) place.textContent = words;
    }
  }

  function shownWords() {
    const picture = now.shown, found = picture ? absence(picture) : null;
    const part = found && found.absent.length ? " " + lake.word("script-picture-partly", { words: absentWords(picture) }) : "";
    return lake.word("script-picture-now", { name: nameOf(picture) }) + (picture && picture.caution ? " " + picture.caution : "") + part;
  }

  // Choosing -----------------------------------------------------------------------------------------------------

  // Something worth flipping against: the relief, or the first other picture, or the bare map.
  function partner(picture) {
    return (ATLAS.pictures.find(function (one) { return one !== picture; })) || null;
  }

  function apply() {
    lake.showGround(lake.root.dataset.view);
    lake.repaint();
  }

  function choose(which, picture) {
    now[which] = picture;
    if (now.shown === now.other) now[which === "shown" ? "other" : "shown"] = picture ? (which === "shown" ? partner(picture) : null) : partner(null);
    if (which === "other" && picture && lake.pictureShown()) lay(picture);
    lost = false;
    apply();
    lake.noteAddress();
    lake.say(shownWords());
  }

  // One press, one flip: nothing flashes by itself.
  function blink() {
    const was = now.shown;
    now.shown = now.other;
    now.other = was;
    for (const picture of [now.shown, now.other]) if (picture && view !== "deep") lay(picture);
    apply();
    lake.noteAddress();
    lake.say(shownWords());
  }

  lake.choosePicture = function (id) {
    choose("shown", byId.get(id) || null);
  };

  function open() {
    const row = document.getElementById("picture-set"), opens = row.hidden;
    row.hidden = !opens;
    find("door").setAttribute("aria-expanded", String(opens));
    lake.makeRoom(opens);
  }

  function byKey(event) {
    if (event.key.toLowerCase() !== "b" || event.altKey || event.ctrlKey || event.metaKey || event.repeat) return;
    if (document.querySelector("dialog[open]")) return;
    if (!find("key").checked || lake.root.dataset.mode === "list" || lake.root.dataset.view === "deep") return;
    if (event.target.closest("input:not([type=range], [type=checkbox]), textarea, [contenteditable], select")) return;
    blink();
  }

  // An address names pictures by their ids, `none` is the bare map.
  function read(asked) {
    const wrong = [];
    for (const [key, which] of [["picture", "shown"], ["blink", "other"]]) {
      const id = asked.get(key);
      if (id === null) continue;
      if (id === "none" || byId.has(id)) now[which] = byId.get(id) || null;
      else wrong.push(lake.word("script-picture-unknown", { id: lake.shortened(id) }));
    }
    const strength = Number(asked.get("strength"));
    if (strength >= FAINTEST && strength <= STRONGEST) now.strength = Math.round(strength / 10) * 10;
    else if (asked.has("strength")) wrong.push(lake.word("script-picture-no-strength", { value: lake.shortened(asked.get("strength")) }));
    if (now.shown === now.other) now.other = partner(now.shown);
    apply();
    return wrong;
  }

  function write() {
    const usual = partner(now.shown);
    const set = now.shown || (now.other !== usual);
    return {
      picture: now.shown ? now.shown.id : set ? "none" : null,
      blink: set && now.other !== usual ? (now.other ? now.other.id : "none") : null,
      strength: now.strength === STRONGEST ? null : now.strength,
    };
  }

  if (!box) return;
  now.other = partner(null);
  lake.addressPart({ keys: ["picture", "blink", "strength"], read: read, write: write });
  find("door").addEventListener("click", open);
  find("blink").addEventListener("click", blink);
  for (const which of ["shown", "other"]) {
    find(which).addEventListener("change", function (event) { choose(which, byId.get(event.target.value) || null); });
  }
  find("strength").addEventListener("input", function (event) {
    now.strength = Number(event.target.value);
    layAll();
    lake.noteAddress();
  });
  document.addEventListener("keydown", byKey);
  lake.map.on("moveend", function () { tell(); });
})();
