// One box that finds landmarks, places, pages, reaches, tiles, photographs and features of the bed by their words.
// It is the combobox with a list of the ARIA Authoring Practices: the keyboard stays in the box, arrows walk the list.
"use strict";
(function () {
  const MOST = 20;
  // Of equal matches, what a reader is likelier to mean comes first.
  const KINDS = ["hazard", "ramp", "access", "parking", "place", "other", "water", "page", "relief", "reach", "tile", "photo"];
  const room = document.querySelector("[data-search]");
  const box = room.querySelector("input"), list = room.querySelector("[role=listbox]");
  const clear = room.querySelector("[data-search-clear]"), none = room.querySelector("[data-search-none]");
  let index = null, found = [], at = -1;

  // Without case and accents, and with letters that no accent makes: a reader types what the keyboard has.
  function plain(text) {
    return text.normalize("NFD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
      .replace(/ß/g, "ss").replace(/[øö]/g, "o").replace(/æ/g, "ae").replace(/œ/g, "oe").replace(/ł/g, "l").replace(/đ/g, "d");
  }

  function wordsOf(text) {
    return plain(text).split(/[^\p{L}\p{N}]+/u).filter(Boolean);
  }

  function entry(kind, title, more, go) {
    return { kind: kind, title: title, more: more, go: go, whole: wordsOf(title).join(" "), words: wordsOf(title), others: wordsOf(more) };
  }

  // Made when the box is first used: ten thousand photographs need a moment.
  function build() {
    const made = [];
    for (const mark of ATLAS.landmarks) {
      made.push(entry(mark.kind, lake.landmarkTitle(mark), mark.words, function () { lake.go("landmark-" + mark.id); }));
    }
    ATLAS.places.forEach(function (place, i) {
      if (place.name) made.push(entry("water", place.name, ATLAS.search.placeKinds[i] || "", function () { goToWater(place); }));
    });
    ATLAS.pages.forEach(function (page, i) {
      made.push(entry("page", lake.word("script-search-page", { number: page.number, title: ATLAS.search.titles[i] }), "", function () { lake.go(page.id); }));
    });
    for (const item of ATLAS.relief) made.push(entry("relief", item.name, "", function () { goToRelief(item); }));
    for (const reach of ATLAS.reaches) {
      made.push(entry("reach", lake.word("script-search-reach", { id: reach.id, name: reach.name }), "", function () { lake.go(lake.anchor("reach", reach.id)); }));
    }
    for (const tile of ATLAS.tiles) {
      made.push(entry("tile", lake.word("script-search-tile", { label: tile.label }), tile.id, function () { lake.go(lake.anchor("tile", tile.id)); }));
    }
    if (ATLAS.search.files) {
      ATLAS.photos.forEach(function (photo, i) {
        const where = lake.word("script-search-photo", { page: photo.page, number: photo.number });
        made.push(entry("photo", ATLAS.search.files[i], where, function () { lake.go("photo-" + photo.id); }));
      });
    }
    return made;
  }

  // A water has banks but no page of its own: its first bank opens, and the map shows the whole of it.
  function goToWater(place) {
    const reach = ATLAS.reaches.find(function (one) { return one.name === place.name || one.name.startsWith(place.name + ", "); });
    if (reach) lake.go(lake.anchor("reach", reach.id));
    const points = [].concat.apply([], lake.areas(place.area).map(function (rings) { return rings[0]; }));
    lake.map.fitBounds(points.length ? L.latLngBounds(points) : L.latLng(place.at[1], place.at[0]).toBounds(300), { maxZoom: 17, animate: !lake.still });
    lake.say(place.name);
  }

  function goToRelief(item) {
    if (item.reaches.length) lake.go(lake.anchor("reach", item.reaches[0]));
    lake.map.setView([item.at[1], item.at[0]], Math.max(lake.map.getZoom(), 17), { animate: !lake.still });
    lake.say(item.name);
  }

  // Matching -------------------------------------------------------------------------------------------------------

  // How well one word asked for matches one thing, the less the better; null where it does not.
  function cost(word, one) {
    if (one.words.includes(word)) return 0;
    if (one.words.some(function (other) { return other.startsWith(word); })) return 1;
    if (one.others.some(function (other) { return other.startsWith(word); })) return 3;
    if (word.length > 2 && one.words.some(function (other) { return other.includes(word); })) return 4;
    return null;
  }

  function rank(asked, one) {
    const phrase = asked.join(" ");
    let sum = one.whole === phrase ? -4 : one.whole.startsWith(phrase) ? -2 : one.whole.includes(" " + phrase) ? -1 : 0;
    for (const word of asked) {
      const much = cost(word, one);
      if (much === null) return null;
      sum += much;
    }
    return sum;
  }

  // The things that have every word, in any order, best first.
  lake.search = function (text) {
    const asked = wordsOf(text), hits = [];
    if (!asked.length) return hits;
    index = index || build();
    for (const one of index) {
      const much = rank(asked, one);
      if (much !== null) hits.push([much, KINDS.indexOf(one.kind), hits.length, one]);
    }
    hits.sort(function (a, b) { return a[0] - b[0] || a[1] - b[1] || a[2] - b[2]; });
    return hits.map(function (hit) { return hit[3]; });
  };

  // List -----------------------------------------------------------------------------------------------------------

  function show() {
    const all = lake.search(box.value), text = box.value.trim();
    found = all.slice(0, MOST);
    at = -1;
    list.replaceChildren.apply(list, found.map(option));
    list.hidden = !found.length;
    clear.hidden = !box.value;
    box.setAttribute("aria-expanded", String(Boolean(found.length)));
    box.removeAttribute("aria-activedescendant");
    none.hidden = !text || Boolean(found.length);
    none.textContent = none.hidden ? "" : lake.word("script-search-none", { words: text });
    if (text) lake.say(found.length ? lake.word("script-search-count", { count: all.length, shown: found.length, more: all.length > MOST ? "yes" : "no" }) : none.textContent);
  }

  function option(one, i) {
    const item = document.createElement("li"), title = document.createElement("span"), kind = document.createElement("small");
    item.id = "search-" + i;
    item.setAttribute("role", "option");
    item.setAttribute("aria-selected", "false");
    title.textContent = one.title;
    kind.textContent = lake.word("script-search-kind", { kind: one.kind });
    item.append(title, kind);
    item.addEventListener("click", function () { take(i); });
    return item;
  }

  function walk(to) {
    const items = list.children;
    if (!items.length) return;
    if (at >= 0) items[at].setAttribute("aria-selected", "false");
    at = (to + items.length) % items.length;
    items[at].setAttribute("aria-selected", "true");
    items[at].scrollIntoView({ block: "nearest" });
    box.setAttribute("aria-activedescendant", items[at].id);
  }

  function close() {
    list.hidden = true;
    box.setAttribute("aria-expanded", "false");
    box.removeAttribute("aria-activedescendant");
    at = -1;
  }

  function take(i) {
    const one = found[i];
    close();
    one.go();
  }

  const keys = {
    ArrowDown: function () { if (list.hidden) show(); else walk(at + 1); },
    ArrowUp: function () { if (list.hidden) show(); else walk(at < 0 ? -1 : at - 1); },
    Enter: function () { if (found.length && !list.hidden) take(Math.max(at, 0)); },
    Escape: function () {
      if (!list.hidden) return close();
      box.value = "";
      show();
    },
  };

  box.addEventListener("keydown", function (event) {
    // Letters and arrows in the box turn no pages.
    event.stopPropagation();
    if (!Object.hasOwn(keys, event.key) || event.isComposing) return;
    event.preventDefault();
    keys[event.key]();
  });
  box.addEventListener("input", show);
  clear.addEventListener("click", function () {
    box.value = "";
    show();
    box.focus();
  });
})();
