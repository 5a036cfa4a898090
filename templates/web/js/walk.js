// Along the shore, photograph by photograph: with a finger on the photograph, or by the buttons at its edges.
"use strict";
(function () {
  const SWIPE_PX = 50, STIR_PX = 8;
  const room = document.getElementById("pages");
  const SVG = "http://www.w3.org/2000/svg";
  let held = null, swiped = false, used = null;

  // The link of the photograph before or after along the shore, on this page or the next; null at either end.
  function besidePhoto(way) {
    const article = room.querySelector(".page.chosen"), figure = article && article.querySelector(".figure.chosen:not(.lead)");
    if (figure) {
      const own = Array.from(article.querySelectorAll(".figure")), near = own[own.indexOf(figure) + way];
      if (near) return near.querySelector("a.frame");
    }
    if (lake.asking()) return null;
    const link = lake.beside(way), page = link && lake.node(link.getAttribute("href").slice(1));
    const frames = page ? page.querySelectorAll("a.frame") : [];
    return frames[way > 0 ? 0 : frames.length - 1] || null;
  }

  // Goes there; false at either end of the shore, which is said.
  lake.walk = function (way) {
    const frame = besidePhoto(way), answer = frame || !lake.asking() ? null : lake.besideAnswer(way);
    if (frame) lake.go("photo-" + frame.dataset.photo, { focus: false, still: true });
    else if (answer) lake.go(answer.getAttribute("href").slice(1), { focus: false });
    else lake.say(lake.word(lake.asking() ? "script-find-no-next" : way > 0 ? "script-last-page" : "script-first-page"));
    return Boolean(frame || answer);
  };

  lake.button = function (name, path, words, act) {
    const button = document.createElement("button"), glyph = document.createElementNS(SVG, "svg"), line = document.createElementNS(SVG, "path");
    button.type = "button";
    button.dataset.does = name;
    button.setAttribute("aria-label", words);
    button.title = words;
    glyph.setAttribute("class", "glyph");
    glyph.setAttribute("viewBox", "0 0 24 24");
    glyph.setAttribute("aria-hidden", "true");
    line.setAttribute("d", path);
    glyph.append(line);
    button.append(glyph);
    button.addEventListener("click", act);
    return button;
  };

  // The buttons at the edges of the large photograph; the one that was used keeps the keyboard.
  lake.dressPhoto = function (figure) {
    const bar = document.createElement("div");
    const add = function (name, path, word, act) {
      bar.append(lake.button(name, path, lake.word(word), act));
    };
    bar.className = "walk";
    add("before", "M15 4l-8 8 8 8", "script-photo-before", function () { lake.walk(-1); });
    add("large", "M4 9V4h5M15 4h5v5M20 15v5h-5M9 20H4v-5", "script-photo-large", function () { lake.enlarge(figure); });
    add("after", "M9 4l8 8-8 8", "script-photo-after", function () { lake.walk(1); });
    figure.querySelector("a.frame").after(bar);
    if (used) bar.querySelector("[data-does=" + used + "]").focus({ preventScroll: true });
    used = null;
  };

  lake.undressPhoto = function () {
    const button = document.activeElement && document.activeElement.closest(".walk button");
    used = button && button.dataset.does;
    for (const node of room.querySelectorAll(".walk, .figures.lead")) node.remove();
  };

  // A finger on the photograph ---------------------------------------------------------------------------------------

  function follow(event) {
    if (!held || event.pointerId !== held.id) return;
    const across = event.clientX - held.x;
    if (Math.abs(across) > STIR_PX) swiped = true;
    if (swiped && !lake.still) held.picture.style.transform = "translateX(" + across + "px)";
  }

  function release(event) {
    if (!held || event.pointerId !== held.id) return;
    const across = event.clientX - held.x, down = event.clientY - held.y;
    held.picture.style.transform = "";
    held = null;
    if (event.type === "pointerup" && Math.abs(across) > SWIPE_PX && Math.abs(across) > 2 * Math.abs(down)) lake.walk(across < 0 ? 1 : -1);
  }

  room.addEventListener("pointerdown", function (event) {
    const frame = event.target.closest(".figure.chosen a.frame"), picture = frame && frame.querySelector("img");
    swiped = false;
    if (picture && event.pointerType !== "mouse" && event.isPrimary) held = { id: event.pointerId, x: event.clientX, y: event.clientY, picture: picture };
  });
  addEventListener("pointermove", follow);
  addEventListener("pointerup", release);
  addEventListener("pointercancel", release);
  // What ends as a swipe is no tap on the photograph.
  room.addEventListener("click", function (event) {
    if (swiped && event.target.closest("a.frame")) {
      event.preventDefault();
      event.stopPropagation();
    }
    swiped = false;
  }, true);
})();
