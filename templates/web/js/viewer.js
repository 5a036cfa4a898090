// The photograph on the whole screen: closer by pinch, wheel, double tap or key, moved by finger or arrows; Esc leaves.
"use strict";
(function () {
  const CLOSEST = 8, STEP = 1.6, SWIPE_PX = 60, STIR_PX = 8, TWICE_MS = 320, PAN_PX = 60;
  const box = document.querySelector("dialog.viewer");
  const stage = box.querySelector(".viewer-stage"), picture = stage.appendChild(document.createElement("img"));
  const fingers = new Map();
  picture.draggable = false;
  let zoom = 1, x = 0, y = 0, start = null, stirred = false, tapped = 0, opener = null;

  function large(image, link) {
    const href = link.getAttribute("href");
    // Where there is no larger picture, the link leads to the photograph's place in this page.
    return href.startsWith("#") ? image.src : href;
  }

  function words(figure, photo) {
    const number = figure.querySelector(".number"), arrow = box.querySelector(".looks");
    box.querySelector(".viewer-words .number").textContent = number ? number.textContent : "";
    box.querySelector("[data-words]").textContent = figure.querySelector(".caption span").textContent;
    const known = Boolean(photo) && photo.heading !== null;
    arrow.classList.toggle("unknown", !known);
    arrow.querySelector("g").setAttribute("transform", "rotate(" + (known ? photo.heading : 0) + " 20 20)");
    arrow.setAttribute("aria-label", known ? lake.word("script-looks", { degrees: String(Math.round(photo.heading) % 360) }) : lake.word("script-looks-unknown"));
  }

  function show(figure) {
    const link = figure.querySelector("a.frame"), image = link.querySelector("img");
    if (!image) return false;
    picture.src = large(image, link);
    picture.alt = image.alt;
    words(figure, lake.photoById.get(link.dataset.photo));
    look(1, 0, 0);
    return true;
  }

  // Opens a figure of the page on the whole screen.
  lake.enlarge = function (figure) {
    if (!box.showModal || !show(figure)) return;
    opener = figure.querySelector("a.frame").dataset.photo;
    box.showModal();
    box.querySelector("[data-does=close]").focus({ preventScroll: true });
    box.querySelector(".viewer-foot").scrollTop = 0;
  };

  // Closer and farther -----------------------------------------------------------------------------------------------

  function look(closer, toX, toY) {
    zoom = Math.min(Math.max(closer, 1), CLOSEST);
    // The picture's edge may come to the middle of the screen, no farther.
    const most = [stage.clientWidth / 2 * (zoom - 1), stage.clientHeight / 2 * (zoom - 1)];
    x = Math.min(Math.max(toX, -most[0]), most[0]);
    y = Math.min(Math.max(toY, -most[1]), most[1]);
    picture.style.transform = "translate(" + x + "px, " + y + "px) scale(" + zoom + ")";
    box.classList.toggle("close-up", zoom > 1);
  }

  // What lies at a place of the screen stays there.
  function zoomAt(times, clientX, clientY) {
    const frame = stage.getBoundingClientRect(), to = Math.min(Math.max(zoom * times, 1), CLOSEST), by = to / zoom;
    const fromX = clientX - frame.left - frame.width / 2, fromY = clientY - frame.top - frame.height / 2;
    look(to, fromX + (x - fromX) * by, fromY + (y - fromY) * by);
  }

  function zoomMiddle(times) {
    look(zoom * times, x * times, y * times);
  }

  function walk(way) {
    if (!lake.walk(way)) return;
    const figure = document.querySelector(".page.chosen .figure.chosen");
    if (figure && show(figure)) lake.say(box.querySelector(".viewer-words").textContent.trim());
  }

  // Fingers ----------------------------------------------------------------------------------------------------------

  function spread() {
    const two = Array.from(fingers.values());
    return { apart: Math.hypot(two[0].x - two[1].x, two[0].y - two[1].y), x: (two[0].x + two[1].x) / 2, y: (two[0].y + two[1].y) / 2 };
  }

  function begin() {
    if (fingers.size === 2) start = spread();
    else if (fingers.size === 1) {
      const one = fingers.values().next().value;
      start = { x: one.x, y: one.y, fromX: x, fromY: y };
    }
  }

  stage.addEventListener("pointerdown", function (event) {
    if (event.button) return;
    stage.setPointerCapture(event.pointerId);
    if (!fingers.size) stirred = false;
    fingers.set(event.pointerId, { x: event.clientX, y: event.clientY });
    begin();
  });
  stage.addEventListener("pointermove", function (event) {
    const finger = fingers.get(event.pointerId);
    if (!finger) return;
    finger.x = event.clientX;
    finger.y = event.clientY;
    if (fingers.size === 2) {
      const now = spread();
      look(zoom, x + now.x - start.x, y + now.y - start.y);
      zoomAt(now.apart / Math.max(start.apart, 1), now.x, now.y);
      start = now;
      stirred = true;
    } else if (fingers.size === 1) {
      if (Math.hypot(finger.x - start.x, finger.y - start.y) > STIR_PX) stirred = true;
      if (zoom > 1) look(zoom, start.fromX + finger.x - start.x, start.fromY + finger.y - start.y);
    }
  });
  function lift(event) {
    if (!fingers.has(event.pointerId)) return;
    const alone = fingers.size === 1, across = event.clientX - start.x, down = event.clientY - start.y;
    fingers.delete(event.pointerId);
    begin();
    if (!alone || event.type !== "pointerup") return;
    if (!stirred) return tap(event);
    if (zoom === 1 && Math.abs(across) > SWIPE_PX && Math.abs(across) > 2 * Math.abs(down)) walk(across < 0 ? 1 : -1);
  }
  stage.addEventListener("pointerup", lift);
  stage.addEventListener("pointercancel", lift);

  function tap(event) {
    const twice = event.timeStamp - tapped < TWICE_MS;
    tapped = twice ? 0 : event.timeStamp;
    if (twice) zoom > 1 ? look(1, 0, 0) : zoomAt(2.5, event.clientX, event.clientY);
  }

  stage.addEventListener("wheel", function (event) {
    event.preventDefault();
    zoomAt(Math.exp(-event.deltaY / 400), event.clientX, event.clientY);
  }, { passive: false });

  // Keys and buttons -------------------------------------------------------------------------------------------------

  const DOES = {
    before: function () { walk(-1); },
    after: function () { walk(1); },
    closer: function () { zoomMiddle(STEP); },
    farther: function () { zoomMiddle(1 / STEP); },
    map: function () {
      box.close();
      lake.sheet("half");
      lake.lookAt({ still: false, animate: true });
    },
    close: function () { box.close(); },
  };
  const ARROWS = { ArrowLeft: [1, 0], ArrowRight: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

  box.addEventListener("click", function (event) {
    const button = event.target.closest("[data-does]");
    if (button) DOES[button.dataset.does]();
  });
  box.addEventListener("keydown", function (event) {
    // Keys belong to the photograph while it covers the page.
    event.stopPropagation();
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const arrow = ARROWS[event.key];
    if (arrow && zoom > 1) look(zoom, x + arrow[0] * PAN_PX, y + arrow[1] * PAN_PX);
    else if (arrow && arrow[0]) walk(-arrow[0]);
    else if (event.key === "+" || event.key === "=") zoomMiddle(STEP);
    else if (event.key === "-") zoomMiddle(1 / STEP);
    else if (event.key === "0") look(1, 0, 0);
    else return;
    event.preventDefault();
  });
  // The keyboard goes back to the photograph that is on the page now.
  box.addEventListener("close", function () {
    picture.removeAttribute("src");
    const frame = document.querySelector(".page.chosen .figure.chosen a.frame") || document.querySelector("a.frame[data-photo=\"" + CSS.escape(opener) + "\"]");
    if (frame) frame.focus({ preventScroll: true });
  });
  document.addEventListener("click", function (event) {
    const link = event.target.closest("a.frame[aria-current]");
    if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey || !box.showModal) return;
    event.preventDefault();
    lake.enlarge(link.closest(".figure"));
  });
})();
