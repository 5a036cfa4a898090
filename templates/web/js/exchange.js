// Marks as files and back: GPX 1.1 waypoints and GeoJSON (RFC 7946). Files from elsewhere are taken for hostile.
"use strict";
(function () {
  const MOST_BYTES = 5000000, FARTHEST_M = 10000;
  // Places that differ by less are the same: about a metre.
  const SAME_DEG = 1e-5;

  // Writing --------------------------------------------------------------------------------------------------------

  // As XML text; what XML 1.0 cannot hold, half letters too, is dropped.
  function xml(text) {
    const sound = text.replace(/[\ud800-\udbff][\udc00-\udfff]|[\u0000-\u0008\u000b\u000c\u000e-\u001f\ud800-\udfff\ufffe\uffff]/g, function (found) {
      return found.length === 2 ? found : "";
    });
    return sound.replace(/[&<>"']/g, function (letter) { return "&#" + letter.charCodeAt(0) + ";"; });
  }

  function element(name, text) {
    return text ? "<" + name + ">" + xml(text) + "</" + name + ">" : "";
  }

  // In the order of the schema: time, name, cmt, desc, src, link, type.
  function waypoint(point) {
    const link = point.ref ? '<link href="#' + xml(point.ref) + '"><text>' + xml(ATLAS.title) + "</text></link>" : "";
    return '  <wpt lat="' + point.at[0].toFixed(6) + '" lon="' + point.at[1].toFixed(6) + '">' + element("time", point.made)
      + element("name", point.name) + element("cmt", lake.depthTold(point.at)) + element("desc", point.note) + element("src", ATLAS.title)
      + link + element("type", point.kind) + "</wpt>\n";
  }

  lake.gpxOf = function (points) {
    return '<?xml version="1.0" encoding="UTF-8"?>\n<gpx xmlns="http://www.topografix.com/GPX/1/1" version="1.1" creator="atlasgen">\n'
      + "  <metadata>" + element("name", ATLAS.title) + element("desc", lake.word("script-marks-file-caution")) + "</metadata>\n"
      + points.map(waypoint).join("") + "</gpx>\n";
  };

  lake.geojsonOf = function (points) {
    const features = points.map(function (point) {
      const properties = { name: point.name, note: point.note, kind: point.kind, ref: point.ref || null, made: point.made || null, depth: lake.depthTold(point.at) || null };
      return { type: "Feature", geometry: { type: "Point", coordinates: [point.at[1], point.at[0]] }, properties: properties };
    });
    return JSON.stringify({ type: "FeatureCollection", features: features }, null, 1) + "\n";
  };

  // A name that every system can hold.
  lake.marksFileName = function (ending) {
    const plain = ATLAS.title.normalize("NFD").replace(/[^A-Za-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 40);
    return (plain || "lake") + "-marks." + ending;
  };

  lake.saveFile = function (name, type, text) {
    const link = document.createElement("a"), address = URL.createObjectURL(new Blob([text], { type: type }));
    link.href = address;
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(address); }, 60000);
  };

  // Reading --------------------------------------------------------------------------------------------------------

  function childText(node, name) {
    for (const child of node.children) if (child.localName === name) return child.textContent;
    return "";
  }

  function linkOf(node) {
    for (const child of node.children) if (child.localName === "link") return (child.getAttribute("href") || "").replace(/^#/, "");
    return "";
  }

  // A document type may hold entities that grow without end; no GPX file needs one.
  function fromGpx(text) {
    if (/<!(DOCTYPE|ENTITY)/i.test(text)) return { why: "entities" };
    const tree = new DOMParser().parseFromString(text, "application/xml");
    if (tree.getElementsByTagName("parsererror").length || tree.documentElement.localName !== "gpx") return { why: "gpx" };
    const found = Array.from(tree.getElementsByTagNameNS("*", "wpt"), function (node) {
      const lat = node.getAttribute("lat"), lon = node.getAttribute("lon");
      return {
        at: [lat ? Number(lat) : NaN, lon ? Number(lon) : NaN],
        name: childText(node, "name"), note: childText(node, "desc") || "", made: childText(node, "time"), kind: childText(node, "type"), ref: linkOf(node),
      };
    });
    return { points: found };
  }

  function ofFeature(feature) {
    const at = feature && feature.geometry && feature.geometry.type === "Point" && feature.geometry.coordinates;
    const own = (feature && feature.properties) || {};
    return { at: Array.isArray(at) ? [at[1], at[0]] : null, name: own.name, note: own.note || own.desc, made: own.made, kind: own.kind, ref: own.ref };
  }

  function fromGeojson(text) {
    let value = null;
    try {
      value = JSON.parse(text);
    } catch (error) {
      return { why: "geojson" };
    }
    if (value && value.type === "Feature") return { points: [ofFeature(value)] };
    if (!value || value.type !== "FeatureCollection" || !Array.isArray(value.features)) return { why: "geojson" };
    return { points: value.features.map(ofFeature) };
  }

  // A reference counts only where it leads to something of this lake.
  function known(ref) {
    const cut = typeof ref === "string" ? ref.indexOf("-") : -1, kind = cut < 0 ? "" : ref.slice(0, cut), name = cut < 0 ? "" : ref.slice(cut + 1);
    const there = { reach: lake.reachById, photo: lake.photoById, landmark: lake.landmarkById }[kind];
    return Boolean(there && there.has(name));
  }

  function same(a, b) {
    return Math.abs(a.at[0] - b.at[0]) < SAME_DEG && Math.abs(a.at[1] - b.at[1]) < SAME_DEG && a.name === b.name;
  }

  // Both notes stay where they say different things.
  function joined(mine, other) {
    if (!other.note || mine.note.includes(other.note)) return mine.note;
    return mine.note ? mine.note + " / " + other.note : other.note;
  }

  // What of a file's text can be used: { why } where none can, else marks to add, notes to change, and counts of the rest.
  lake.readMarks = function (text, mine) {
    const start = text.replace(/^\ufeff/, "").trimStart().charAt(0);
    const read = start === "<" ? fromGpx(text) : start === "{" ? fromGeojson(text) : { why: "neither" };
    if (read.why) return read;
    if (!read.points.length) return { why: "empty" };
    const found = { add: [], notes: new Map(), same: 0, bad: 0, far: 0, over: 0 };
    for (const raw of read.points) {
      const mark = lake.soundMark(raw);
      if (!mark) found.bad++;
      else if (lake.nearestBank(mark.at).metres > FARTHEST_M) found.far++;
      else take(mark, raw, mine, found);
    }
    return found;
  };

  function take(mark, raw, mine, found) {
    if (!known(mark.ref)) {
      mark.ref = "";
      if (mark.kind !== "relief") mark.kind = "place";
    }
    mark.name = mark.name || lake.word("script-marks-nameless");
    const old = mine.find(function (other) { return same(other, mark); }), twin = found.add.find(function (other) { return same(other, mark); });
    if (old || twin) found.same++;
    if (old) found.notes.set(old.id, joined(old, mark));
    else if (twin) twin.note = joined(twin, mark);
    else if (mine.length + found.add.length >= lake.marks.most) found.over++;
    else found.add.push(mark);
  }

  lake.marksFileTooLarge = function (bytes) {
    return bytes > MOST_BYTES;
  };
})();
