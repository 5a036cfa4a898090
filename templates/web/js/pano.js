// A turn-around set as one endless strip: its photographs by true heading, pulled by a finger; the map looks along.
"use strict";
(function () {
  const make = lake.make;
  const FULL = 360, NARROW = 0.5, STEP_DEG = 15, STIR_PX = 6;
  const POINTS = { 0: "north", 90: "east", 180: "south", 270: "west" };
  let strip = null, band = null, set = [], gaps = [], perDegree = 4, heading = 0, kept = null, held = null, hadFocus = false;

  function turn(degrees) {
    return (degrees % FULL + FULL) % FULL;
  }

  // The photographs clockwise, each with the bearings that are its own: half way to its neighbours, at most its frame.
  function shares(photos) {
    const found = photos.slice().sort(function (a, b) { return a.heading - b.heading; });
    return found.map(function (photo, i) {
      const before = found[(i + found.length - 1) % found.length], after = found[(i + 1) % found.length];
      const back = found.length > 1 ? turn(photo.heading - before.heading) || FULL : FULL, on = found.length > 1 ? turn(after.heading - photo.heading) || FULL : FULL;
      return { photo: photo, left: Math.min(back / 2, photo.width / 2), right: Math.min(on / 2, photo.width / 2) };
    });
  }

  // Bearings that nothing shows, from and for how many degrees.
  function between(all) {
    return all.map(function (one, i) {
      const next = all[(i + 1) % all.length], from = turn(one.photo.heading + one.right);
      const apart = all.length > 1 ? turn(next.photo.heading - one.photo.heading) || FULL : FULL;
      return { from: from, width: apart - one.right - next.left };
    }).filter(function (gap) { return gap.width > NARROW; });
  }

  function put(node, from, width) {
    node.style.left = from * perDegree + "px";
    if (width !== undefined) node.style.width = Math.max(width * perDegree, 1) + "px";
    band.append(node);
  }

  function lay() {
    const high = strip.clientHeight - 26, wide = strip.clientWidth;
    if (!wide) return;
    const one = set[0].photo, image = document.querySelector("#photo-" + one.id + " img");
    const aspect = image ? image.getAttribute("width") / image.getAttribute("height") : 4 / 3;
    perDegree = Math.max(high * aspect / one.width, wide / (FULL - 1));
    band.replaceChildren();
    // Turn after turn, so that neither end is ever in sight.
    for (const round of [-FULL, 0, FULL]) {
      for (const share of set) photograph(share, round);
      for (const gap of gaps) put(make("div", "pano-gap", lake.word("script-pano-gap")), round + gap.from, gap.width);
      for (let bearing = 0; bearing < FULL; bearing += STEP_DEG) mark(round + bearing, POINTS[bearing]);
    }
    look(heading);
  }

  function photograph(share, round) {
    const place = make("div", "pano-photo"), image = document.createElement("img"), number = make("b", "pano-number", String(share.photo.number));
    const small = lake.smallPicture(share.photo.id);
    if (small) {
      image.src = small;
      image.alt = "";
      image.draggable = false;
      image.style.width = share.photo.width * perDegree + "px";
      image.style.left = (share.left - share.photo.width / 2) * perDegree + "px";
      place.append(image);
    }
    place.append(number);
    place.dataset.photo = share.photo.id;
    put(place, round + share.photo.heading - share.left, share.left + share.right);
  }

  function mark(bearing, point) {
    put(make("span", point ? "pano-mark pano-letter" : "pano-mark", point ? lake.word("script-pano-point", { point: point }) : ""), bearing);
  }

  // What lies in the middle: a photograph of the set, or null within a gap.
  function middle() {
    const share = set.find(function (one) {
      const off = (turn(heading - one.photo.heading) + 180) % FULL - 180;
      return off >= -one.left && off <= one.right;
    });
    return share ? share.photo : null;
  }

  function look(to) {
    const before = middle();
    heading = turn(to);
    band.style.transform = "translateX(" + (strip.clientWidth / 2 - heading * perDegree) + "px)";
    const photo = middle(), degrees = String(Math.round(heading) % FULL);
    strip.setAttribute("aria-valuenow", degrees);
    strip.setAttribute("aria-valuetext", photo ? lake.word("script-pano-at", { degrees: degrees, number: photo.number }) : lake.word("script-pano-nothing", { degrees: degrees }));
    for (const node of band.querySelectorAll(".pano-photo")) node.classList.toggle("middle", Boolean(photo) && node.dataset.photo === photo.id);
    if (photo === before) return;
    // The map looks along at once; the page follows when the hand has come to rest.
    lake.chosen.photo = photo ? photo.id : null;
    lake.drawViews(null);
    lake.repaint();
  }

  function rest() {
    const photo = middle();
    kept = heading;
    if (photo) lake.go("photo-" + photo.id, { replace: true, focus: false, still: true });
  }

  function listen() {
    strip.addEventListener("pointerdown", function (event) {
      if (event.button) return;
      strip.setPointerCapture(event.pointerId);
      held = { x: event.clientX, heading: heading, stirred: false };
    });
    strip.addEventListener("pointermove", function (event) {
      if (!held) return;
      const across = event.clientX - held.x;
      held.stirred = held.stirred || Math.abs(across) > STIR_PX;
      if (held.stirred) look(held.heading - across / perDegree);
    });
    strip.addEventListener("pointerup", function (event) {
      if (!held) return;
      const stirred = held.stirred;
      held = null;
      // A tap brings what lies under it into the middle.
      if (!stirred) look(heading + (event.clientX - strip.getBoundingClientRect().left - strip.clientWidth / 2) / perDegree);
      rest();
    });
    strip.addEventListener("pointercancel", function () { held = null; });
    strip.addEventListener("keydown", function (event) {
      const steps = { ArrowLeft: -5, ArrowRight: 5, PageUp: 45, PageDown: -45, Home: -heading };
      if (!(event.key in steps)) return;
      event.preventDefault();
      event.stopPropagation();
      look(heading + steps[event.key]);
      clearTimeout(listen.waiting);
      listen.waiting = setTimeout(rest, 600);
    });
    new ResizeObserver(lay).observe(strip);
  }

  // Lays the strip above a page that shows a set.
  lake.layPano = function (article) {
    const links = Array.from(article.querySelectorAll(".turn-compass a"));
    const photos = links.map(function (link) { return lake.photoById.get(link.getAttribute("href").slice(7)); })
      .filter(function (photo) { return photo && photo.heading !== null; });
    if (photos.length < 2) return;
    set = shares(photos);
    gaps = between(set);
    strip = make("div", "pano");
    band = make("div", "pano-band");
    for (const [name, value] of [["role", "slider"], ["tabindex", "0"], ["aria-valuemin", "0"], ["aria-valuemax", "359"], ["aria-label", lake.word("script-pano")]]) strip.setAttribute(name, value);
    strip.append(band, make("i", "pano-needle"));
    const room = make("div", "pano-room");
    room.append(strip, make("p", "pano-words", lake.word("script-pano-words")));
    article.querySelector(".turn").before(room);
    listen();
    const chosen = lake.photoById.get(lake.chosen.photo);
    heading = kept !== null && chosen && set.some(function (one) { return one.photo === chosen && covers(one, kept); }) ? kept : chosen && chosen.heading !== null ? chosen.heading : set[0].photo.heading;
    kept = null;
    lay();
    if (hadFocus) strip.focus({ preventScroll: true });
    hadFocus = false;
  };

  function covers(one, bearing) {
    const off = (turn(bearing - one.photo.heading) + 180) % FULL - 180;
    return off >= -one.left && off <= one.right;
  }

  lake.clearPano = function () {
    hadFocus = Boolean(strip) && document.activeElement === strip;
    for (const node of document.querySelectorAll(".pano-room")) node.remove();
  };
})();
