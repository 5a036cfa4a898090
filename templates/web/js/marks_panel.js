// The panel "Marks": the list, what is taken along as a file, and what is brought in; and the marks on the map.
"use strict";
(function () {
  const make = lake.make;
  const FACE = '"Source Sans Pro", sans-serif';
  const AROUND_DEG = 0.002, coarse = matchMedia("(pointer: coarse)").matches;
  const room = document.getElementById("marks"), list = find("list"), none = find("none"), told = find("told"), undo = find("undo");
  const form = find("form"), chosen = find("chosen"), brought = find("brought"), landmarks = find("landmarks");
  const name = form.querySelector("input"), note = form.querySelector("textarea");
  // Marks that the reader unticked; the id that the form edits, or the place that it is to mark; what was removed last.
  const left = new Set();
  let editing = null, asked = null, removed = null, shown = null;

  function find(part) {
    return room.querySelector("[data-marks-" + part + "]");
  }

  function button(words, act) {
    const node = make("button", "", words);
    node.type = "button";
    node.addEventListener("click", act);
    return node;
  }

  // List -----------------------------------------------------------------------------------------------------------

  function tick(checked, label, change) {
    const holder = make("label", "marks-tick"), box = make("input");
    box.type = "checkbox";
    box.checked = checked;
    box.setAttribute("aria-label", label);
    box.addEventListener("change", function () {
      change(box.checked);
      tellChosen();
    });
    holder.append(box);
    return holder;
  }

  function facts(mark) {
    const depth = lake.depthTold(mark.at);
    return [lake.word("script-marks-kind", { kind: mark.kind }), depth, lake.positionWords(mark.at)].filter(Boolean).join(", ");
  }

  function item(mark) {
    const node = make("li", mark.id === shown ? "shown" : ""), words = make("div", "marks-words"), link = make("a", "", mark.name);
    node.dataset.mark = mark.id;
    link.href = "#mark-" + mark.id;
    words.append(link, make("small", "", facts(mark)));
    if (mark.note) words.append(make("p", "", mark.note));
    if (mark.ref) words.append(pageLink(mark));
    node.append(
      tick(!left.has(mark.id), lake.word("script-marks-tick", { name: mark.name }), function (on) { if (on) left.delete(mark.id); else left.add(mark.id); }),
      words,
      button(lake.word("script-marks-edit"), function () { openForm(mark, null); }),
      button(lake.word("script-marks-remove"), function () { remove(mark); }));
    for (const one of node.querySelectorAll("button")) one.setAttribute("aria-label", one.textContent + ": " + mark.name);
    return node;
  }

  function pageLink(mark) {
    const link = make("a", "", lake.word("script-marks-open"));
    link.href = "#" + mark.ref.replace(/^(reach|photo|landmark)-(.*)$/, function (_, kind, id) { return lake.anchor(kind, id); });
    const line = make("small");
    line.append(link);
    return line;
  }

  function draw() {
    const marks = lake.marks.list();
    list.replaceChildren.apply(list, marks.map(item));
    none.hidden = marks.length > 0;
    const why = lake.marks.told();
    told.hidden = !why;
    told.textContent = why ? lake.word("script-marks-store", { why: why }) : "";
    for (const count of document.querySelectorAll("[data-marks-count]")) count.textContent = marks.length ? " " + marks.length : "";
    tellChosen();
    lake.repaint();
  }

  function remove(mark) {
    removed = { mark: mark, at: lake.marks.list().indexOf(mark) };
    lake.marks.remove(mark.id);
    undo.querySelector("span").textContent = lake.word("script-marks-removed", { name: mark.name });
    undo.hidden = false;
    undo.querySelector("button").focus();
  }

  undo.querySelector("button").addEventListener("click", function () {
    if (removed) lake.marks.putBack(removed.mark, removed.at);
    const back = removed && list.querySelector("[data-mark=\"" + CSS.escape(removed.mark.id) + "\"] a");
    removed = null;
    undo.hidden = true;
    if (back) back.focus();
  });

  // Form -----------------------------------------------------------------------------------------------------------

  function openForm(mark, at) {
    editing = mark;
    asked = at;
    form.hidden = false;
    name.value = mark ? mark.name : lake.word("script-marks-place", { number: lake.marks.list().length + 1 });
    note.value = mark ? mark.note : "";
    name.focus();
    name.select();
    form.scrollIntoView({ block: "nearest" });
    lake.repaint();
  }

  function closeForm() {
    const back = editing && list.querySelector("[data-mark=\"" + CSS.escape(editing.id) + "\"] a");
    form.hidden = true;
    editing = asked = null;
    lake.repaint();
    (back || find("pick")).focus();
  }

  function keep() {
    const words = { name: name.value.trim() || lake.word("script-marks-nameless"), note: note.value };
    if (editing) lake.marks.change(editing.id, words);
    else {
      const made = lake.marks.make(Object.assign({ kind: "place", ref: "", at: asked }, words));
      lake.say(made ? lake.word("script-marks-kept", { name: made.name }) : lake.word("script-marks-too-many", { most: lake.marks.most }));
    }
    closeForm();
  }

  find("keep").addEventListener("click", keep);
  name.addEventListener("keydown", function (event) {
    if (event.key !== "Enter" || event.isComposing) return;
    event.preventDefault();
    keep();
  });
  find("cancel").addEventListener("click", closeForm);
  find("pick").addEventListener("click", function () {
    if (lake.root.dataset.sheet !== "low") lake.sheet("low");
    lake.pickPlace(lake.markPlace);
  });

  // Any place of the map: the form asks for its name.
  lake.markPlace = function (at) {
    lake.go("marks", { focus: false });
    lake.sheet("half");
    openForm(null, at);
  };

  // Files ----------------------------------------------------------------------------------------------------------

  function points() {
    const marks = lake.marks.list().filter(function (mark) { return !left.has(mark.id); });
    return marks.concat(Array.from(lake.pickedPoints.values()));
  }

  function tellChosen() {
    const others = lake.pickedPoints.size, marks = points().length - others;
    chosen.textContent = lake.word("script-marks-chosen", { marks: marks, others: others });
    for (const one of room.querySelectorAll("[data-marks-save]")) one.disabled = marks + others === 0;
  }

  lake.tellMarks = tellChosen;

  for (const one of room.querySelectorAll("[data-marks-save]")) {
    one.addEventListener("click", function () {
      if (one.dataset.marksSave === "gpx") lake.saveFile(lake.marksFileName("gpx"), "application/gpx+xml", lake.gpxOf(points()));
      else lake.saveFile(lake.marksFileName("geojson"), "application/geo+json", lake.geojsonOf(points()));
    });
  }

  function bring(text) {
    const found = lake.readMarks(text, lake.marks.list());
    if (found.why) return lake.word("script-marks-refused", { why: found.why });
    for (const pair of found.notes) lake.marks.change(pair[0], { note: pair[1] });
    const made = lake.marks.add(found.add);
    const words = [lake.word("script-marks-came", { count: made.length })];
    for (const why of ["same", "far", "bad", "over"]) {
      if (found[why]) words.push(lake.word("script-marks-left", { why: why, count: found[why] }));
    }
    return words.join(" ");
  }

  find("file").addEventListener("change", function (event) {
    const file = event.currentTarget.files[0], chooser = event.currentTarget;
    if (!file) return;
    if (lake.marksFileTooLarge(file.size)) brought.textContent = lake.word("script-marks-refused", { why: "large" });
    else {
      file.text().then(bring).catch(function () { return lake.word("script-marks-refused", { why: "unreadable" }); })
        .then(function (words) { brought.textContent = words; });
    }
    // The same file can be chosen once more.
    chooser.value = "";
  });

  if (landmarks) {
    landmarks.replaceChildren.apply(landmarks, ATLAS.landmarks.map(function (mark) {
      const node = make("li"), label = make("label"), box = make("input"), point = lake.pointOfLandmark(mark);
      box.type = "checkbox";
      box.className = "marks-box";
      box.addEventListener("change", function () {
        if (box.checked) lake.pickedPoints.set(point.ref, point);
        else lake.pickedPoints.delete(point.ref);
        tellChosen();
      });
      label.append(box, make("span", "", point.name + ", " + lake.kindWords(mark.kind)));
      node.append(label);
      return node;
    }));
  }

  // Panel and map --------------------------------------------------------------------------------------------------

  lake.showMarks = function (id) {
    const mark = lake.marks.list().find(function (one) { return one.id === id; });
    lake.showPanel(room, "marks");
    shown = mark ? id : null;
    if (mark) {
      lake.chosen.mark = mark;
      lake.chosen.places = [[mark.at[0] - AROUND_DEG, mark.at[1] - AROUND_DEG], [mark.at[0] + AROUND_DEG, mark.at[1] + AROUND_DEG]];
    }
    draw();
    if (mark) list.querySelector(".shown").scrollIntoView({ block: "nearest" });
    lake.say(lake.word("script-marks-count", { count: lake.marks.list().length }));
    return document.getElementById("marks-title");
  };

  lake.markNear = function (map, point) {
    return lake.marks.list().find(function (mark) {
      return map.latLngToContainerPoint(mark.at).subtract([-5, 9]).distanceTo(point) < (coarse ? 24 : 14);
    }) || null;
  };

  // A pennant on its pole, the foot of which is the place.
  function pennant(ctx, p, open) {
    const halo = [[lake.colour("paper"), 6], [lake.colour("ink"), 2.4]];
    for (const ink of halo) {
      ctx.beginPath();
      ctx.moveTo(p.x, p.y);
      ctx.lineTo(p.x, p.y - 20);
      ctx.lineTo(p.x + 13, p.y - 15);
      ctx.lineTo(p.x, p.y - 10);
      ctx.strokeStyle = ink[0];
      ctx.lineWidth = ink[1];
      ctx.stroke();
    }
    ctx.fillStyle = lake.colour(open ? "paper" : "ink");
    ctx.fill();
  }

  lake.onInk(function (ctx, map, paper) {
    const close = lake.distance(map) === "close";
    ctx.font = "600 14px " + FACE;
    ctx.textAlign = "left";
    ctx.textBaseline = "middle";
    for (const mark of lake.marks.list()) {
      if (!paper.holds([mark.at[1], mark.at[0]])) continue;
      const p = paper.at(mark.at), name = lake.mapName(mark.name), wide = ctx.measureText(name).width;
      pennant(ctx, p, mark.id === shown);
      paper.keep(p.x + 5, p.y - 10, 22, 26);
      if (!close || !paper.free(p.x + 18 + wide / 2, p.y - 14, wide, 16)) continue;
      paper.write(name, p.x + 18, p.y - 14, "ink");
      paper.keep(p.x + 18 + wide / 2, p.y - 14, wide + 6, 18);
    }
    if (asked) pennant(ctx, paper.at(asked), true);
  });

  room.addEventListener("keydown", function (event) {
    // Arrows in a field turn no pages; Escape leaves the form first.
    if (event.target.matches("input, textarea")) event.stopPropagation();
    if (event.key === "Escape" && !form.hidden) {
      event.stopPropagation();
      closeForm();
    }
  });
  lake.marks.onChange(draw);
  draw();
})();
