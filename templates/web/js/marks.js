// The reader's marks, kept on the device under the lake's title, so that editions share them. What stands there is never
// lost: what cannot be read is put aside under a key of its own, and where nothing can be stored marks last this visit.
"use strict";
(function () {
  const KEY = "atlasgen marks: " + ATLAS.title, FORMAT = "marks 1";
  const KINDS = ["reach", "photo", "relief", "landmark", "place"];
  const MOST = 2000, LONGEST = { id: 40, ref: 120, name: 80, note: 500 };
  const hearers = [];
  // `memory` is what the page shows; it counts more than the store where that could not be written.
  let memory = [], locked = false, unsaved = false, told = "";

  function text(value, most) {
    return typeof value === "string" ? value.replace(/[\u0000-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]+/g, " ").trim().slice(0, most) : "";
  }

  // A mark with nothing in it but what a mark has; null where it has no place.
  lake.soundMark = function (raw) {
    if (!raw || typeof raw !== "object" || !Array.isArray(raw.at)) return null;
    const lat = raw.at[0], lon = raw.at[1];
    if (typeof lat !== "number" || typeof lon !== "number" || !(Math.abs(lat) <= 90) || !(Math.abs(lon) <= 180)) return null;
    const made = text(raw.made, 30);
    return {
      id: text(raw.id, LONGEST.id) || newId(),
      kind: KINDS.includes(raw.kind) ? raw.kind : "place",
      ref: text(raw.ref, LONGEST.ref),
      name: text(raw.name, LONGEST.name),
      note: text(raw.note, LONGEST.note),
      at: [Math.round(lat * 1e6) / 1e6, Math.round(lon * 1e6) / 1e6],
      made: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/.test(made) ? made : "",
    };
  };

  function newId() {
    return "m" + Date.now().toString(36) + Math.floor(Math.random() * 1e9).toString(36);
  }

  // Store ----------------------------------------------------------------------------------------------------------

  // A copy under a key of its own; false where there is no room for one.
  function copyAside(stored) {
    try {
      let number = 1;
      while (localStorage.getItem(KEY + " (put aside " + number + ")") !== null) number++;
      localStorage.setItem(KEY + " (put aside " + number + ")", stored);
      told = "aside";
      return true;
    } catch (error) {
      return false;
    }
  }

  // What cannot be read is copied before anything is written over it; without a copy nothing is written at all.
  function putAside(stored, good) {
    if (copyAside(stored)) write(good);
    else lock("damaged");
    return good;
  }

  function lock(why) {
    locked = true;
    told = why;
  }

  function parsed(stored) {
    try {
      return JSON.parse(stored);
    } catch (error) {
      return null;
    }
  }

  function read() {
    let stored = null;
    try {
      stored = localStorage.getItem(KEY);
    } catch (error) {
      lock("blocked");
    }
    if (stored === null) return [];
    const value = parsed(stored);
    // Of a newer program's store nothing is known: it is left as it is.
    if (value && typeof value.format === "string" && value.format.startsWith("marks ") && value.format !== FORMAT) {
      lock("newer");
      return [];
    }
    if (!value || value.format !== FORMAT || !Array.isArray(value.marks)) return putAside(stored, []);
    const good = value.marks.map(lake.soundMark).filter(Boolean);
    return good.length < value.marks.length ? putAside(stored, good) : good;
  }

  function write(marks) {
    if (locked) return;
    try {
      localStorage.setItem(KEY, JSON.stringify({ format: FORMAT, lake: ATLAS.title, marks: marks }));
      unsaved = false;
      if (told === "full") told = "";
    } catch (error) {
      unsaved = true;
      told = "full";
    }
  }

  // Another tab may have changed the store: what is changed is what stands there now.
  function update(change) {
    if (!locked && !unsaved) memory = read();
    memory = change(memory);
    write(memory);
    for (const hear of hearers) hear();
  }

  lake.marks = {
    most: MOST,
    list: function () { return memory; },
    // Why marks are not, or not all, in the store: "", blocked, full, damaged, newer, aside.
    told: function () { return told; },
    onChange: function (hear) { hearers.push(hear); },
    add: function (many) {
      const room = Math.max(MOST - memory.length, 0), made = many.map(lake.soundMark).filter(Boolean).slice(0, room);
      update(function (now) { return now.concat(made); });
      return made;
    },
    make: function (fields) {
      return lake.marks.add([Object.assign({ id: newId(), made: new Date().toISOString() }, fields)])[0];
    },
    change: function (id, fields) {
      update(function (now) {
        return now.map(function (mark) { return mark.id === id ? lake.soundMark(Object.assign({}, mark, fields)) : mark; });
      });
    },
    remove: function (id) {
      update(function (now) { return now.filter(function (mark) { return mark.id !== id; }); });
    },
    // Where it stood.
    putBack: function (mark, at) {
      update(function (now) { return now.slice(0, at).concat([mark], now.slice(at)); });
    },
  };

  memory = read();
  addEventListener("storage", function (event) {
    if (event.key !== KEY || locked || unsaved) return;
    memory = read();
    for (const hear of hearers) hear();
  });
})();
