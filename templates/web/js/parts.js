// What stands behind `?` in the address: what a reader has set, beside the place. Each script keeps its own keys there.
//
//   lake.addressPart({
//     keys: ["level", "lit"],        // its own; two scripts never share one
//     read: function (asked) {},     // an address from outside names at least one of them: `asked` is URLSearchParams
//     write: function () {},         // its keys with their values as they stand now; null or "" is left out
//   });
//
// Call it while the script loads; `read` runs later, before anything is shown, and must not call lake.noteAddress.
// It sets what it understands, leaves the rest as it is, and returns sentences about values it does not understand
// (or nothing): they are shown above the page. After each change by the reader call lake.noteAddress(), which replaces
// the address: a setting is no step for Back. Back goes back to a place; what is set stays as it is wherever the reader
// looks. Only an address from outside (typed, a bookmark, or a link of ours with `?`) brings its own, and what it does
// not name stays too.
"use strict";
(function () {
  const LONGEST = 40;
  const parts = [];
  const told = document.querySelector("[data-address-told]");

  lake.addressPart = function (part) {
    parts.push(part);
  };

  // Commas and colons stay readable.
  function encode(value) {
    return encodeURIComponent(value).replace(/%2C/g, ",").replace(/%3A/g, ":");
  }

  // As it stands behind the place, with its `?`; "" where nothing is set.
  lake.addressTail = function () {
    const words = [];
    for (const part of parts) {
      const now = part.write();
      for (const key of part.keys) {
        if (now[key] !== null && now[key] !== undefined && now[key] !== "") words.push(key + "=" + encode(now[key]));
      }
    }
    return words.length ? "?" + words.join("&") : "";
  };

  // A value from an address as it may stand in a sentence: not endless.
  lake.shortened = function (value) {
    return value.length > LONGEST ? value.slice(0, LONGEST) + "…" : value;
  };

  function strangers(asked) {
    const known = [].concat.apply([], parts.map(function (part) { return part.keys; }));
    return Array.from(new Set(asked.keys())).filter(function (key) { return !known.includes(key); });
  }

  lake.readTail = function (address) {
    const at = address.indexOf("?");
    if (at < 0) return;
    const asked = new URLSearchParams(address.slice(at + 1)), sentences = [];
    for (const part of parts) {
      if (part.keys.some(function (key) { return asked.has(key); })) sentences.push.apply(sentences, part.read(asked) || []);
    }
    for (const key of strangers(asked)) sentences.push(lake.word("script-address-unknown", { asked: lake.shortened(key) }));
    lake.tellAddress(sentences);
  };

  lake.tellAddress = function (sentences) {
    told.hidden = !sentences.length;
    told.textContent = sentences.join(" ");
  };
})();
