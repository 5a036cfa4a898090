// "Take it with me" on a page: a mark on its bank, a photograph, a feature of the bed or a landmark, and its stations.
"use strict";
(function () {
  const make = lake.make;
  const MOST_RELIEF = 6;
  // Points that are ticked for the files but are no marks: stations and landmarks, by address.
  const picked = new Map();
  let number = 0;

  lake.pickedPoints = picked;

  function flipped(lonlat) {
    return [lonlat[1], lonlat[0]];
  }

  lake.pointOfPhoto = function (photo) {
    return { kind: "photo", ref: "photo-" + photo.id, name: lake.word("script-marks-photo", { page: photo.page, number: photo.number }), note: "", at: flipped(photo.at) };
  };

  lake.pointOfLandmark = function (mark) {
    return { kind: "landmark", ref: "landmark-" + mark.id, name: lake.landmarkTitle(mark), note: mark.words, at: flipped(mark.at) };
  };

  function pointOfReach(reach) {
    const middle = reach.points[Math.floor(reach.points.length / 2)];
    return { kind: "reach", ref: "reach-" + reach.id, name: lake.word("script-marks-reach", { id: reach.id, name: reach.name }), note: "", at: middle };
  }

  function pointOfRelief(item) {
    return { kind: "relief", ref: "", name: item.name, note: "", at: flipped(item.at) };
  }

  // What is open can be marked: what was chosen first, then what belongs to it.
  function subjects() {
    const landmark = lake.landmarkById.get(lake.chosen.landmark);
    if (landmark) return [lake.pointOfLandmark(landmark)];
    const reaches = (lake.chosen.reaches || []).map(function (id) { return lake.reachById.get(id); }).filter(Boolean);
    const photos = ATLAS.photos.filter(function (photo) { return photo.page === lake.chosen.page; });
    const relief = ATLAS.relief.filter(function (item) { return reaches.some(function (reach) { return item.reaches.includes(reach.id); }); });
    return [].concat(reaches.map(pointOfReach), photos.map(lake.pointOfPhoto), relief.slice(0, MOST_RELIEF).map(pointOfRelief));
  }

  function labelled(words, control) {
    const label = make("label", "", words);
    label.append(control);
    return label;
  }

  function select(points) {
    const node = make("select");
    points.forEach(function (point, i) {
      const option = make("option", "", point.name);
      option.value = String(i);
      node.append(option);
    });
    return node;
  }

  function stations(points) {
    const photos = points.filter(function (point) { return point.kind === "photo"; });
    if (!photos.length) return null;
    const tick = make("input"), label = make("label", "tick");
    tick.type = "checkbox";
    tick.checked = photos.every(function (point) { return picked.has(point.ref); });
    tick.addEventListener("change", function () {
      for (const point of photos) {
        if (tick.checked) picked.set(point.ref, point);
        else picked.delete(point.ref);
      }
      lake.tellMarks();
    });
    label.append(tick, make("span", "", lake.word("script-marks-stations", { count: photos.length })));
    return label;
  }

  // A small form of its own at the end of what is open.
  lake.tellMarking = function (article) {
    const points = subjects();
    if (!points.length) return;
    const room = make("details", "marking"), form = make("form"), what = select(points), note = make("input"), keep = make("button", "", lake.word("script-marks-keep")), said = make("p");
    note.type = "text";
    note.maxLength = 500;
    note.autocomplete = "off";
    keep.type = "submit";
    said.setAttribute("role", "status");
    note.id = "marking-note-" + ++number;
    form.append(labelled(lake.word("script-marks-what"), what), labelled(lake.word("script-marks-note"), note), keep);
    const ticks = stations(points);
    if (ticks) form.append(ticks);
    form.append(said);
    room.append(make("summary", "", lake.word("script-marks-take")), form);
    form.addEventListener("submit", function (event) {
      event.preventDefault();
      keepMark(Object.assign({}, points[Number(what.value)], { note: note.value }), said);
      note.value = "";
    });
    // Letters and arrows in the form turn no pages.
    room.addEventListener("keydown", function (event) { if (event.key !== "Escape") event.stopPropagation(); });
    article.append(room);
  };

  function keepMark(point, said) {
    const made = lake.marks.make(point), link = make("a", "", lake.word("script-marks-see"));
    link.href = "#marks";
    said.replaceChildren(made ? lake.word("script-marks-kept", { name: made.name }) : lake.word("script-marks-too-many", { most: lake.marks.most }), " ", link);
  }

  lake.clearMarking = function () {
    for (const node of document.querySelectorAll(".marking")) node.remove();
  };
})();
