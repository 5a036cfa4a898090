// Wires the parts together once the document is there.
"use strict";
(function () {
  const map = lake.map;
  const wide = matchMedia("(min-width: 900px), (min-width: 700px) and (orientation: landscape)");
  const WHOLE = L.latLngBounds([ATLAS.bounds[1], ATLAS.bounds[0]], [ATLAS.bounds[3], ATLAS.bounds[2]]);
  const SWIPE_PX = 60;

  // What stands on the map needs its room: on a phone the buttons lie along its foot, or down its side if it is low.
  function clear() {
    const bar = document.querySelector(".map-foot"), high = bar ? bar.offsetHeight : 0, buttons = document.querySelector(".zoom");
    const beside = buttons.offsetHeight > buttons.offsetWidth;
    return { paddingTopLeft: [16, 16], paddingBottomRight: wide.matches ? [70, 26] : beside ? [70, 16 + high] : [16, 62 + high] };
  }

  function wholeLake(animate) {
    map.fitBounds(WHOLE, Object.assign({ animate: animate && !lake.still }, clear()));
  }

  // Views --------------------------------------------------------------------------------------------------------

  lake.markQuestion = function () {
    const list = lake.root.dataset.mode === "list";
    for (const button of document.querySelectorAll("button[data-question]")) {
      button.setAttribute("aria-pressed", String(!list && button.dataset.question === lake.root.dataset.view));
    }
    const link = document.querySelector("a[data-question]");
    if (lake.root.dataset.shown === "find") link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  };

  function ask(view) {
    lake.root.dataset.view = view;
    if (lake.root.dataset.mode === "list") lake.go(lake.lastPlace(), { focus: false });
    lake.showGround(view);
    lake.markQuestion();
    lake.repaint();
    document.getElementById("pages").scrollTop = 0;
    const answer = document.querySelector(".key-words[data-for=" + view + "]");
    lake.say(answer.textContent.replace(/\s+/g, " ").trim());
  }

  // Looking ------------------------------------------------------------------------------------------------------

  // `bank`: without what photographs show of it.
  function chosenBounds(bank) {
    const points = (lake.chosen.places || []).slice();
    for (const id of lake.chosen.reaches || []) points.push.apply(points, lake.reachById.get(id).points);
    for (const photo of ATLAS.photos) {
      if (photo.page === lake.chosen.page) points.push([photo.at[1], photo.at[0]]);
    }
    const main = lake.photoById.get(lake.chosen.photo);
    // A view is looked at whole; of a bank's photographs, where they stood.
    if (bank) {
      // Whoever pulls along the shore wants to see it pass, not the map zoom in and out.
    } else if (lake.chosen.asked) {
      const reach = lake.reachById.get(lake.chosen.asked);
      for (const one of lake.shownBy(reach)) points.push([one.photo.at[1], one.photo.at[0]]);
    } else if (main && lake.viewOf(main)) {
      for (const ring of main.view.points) points.push.apply(points, ring);
    }
    const spot = lake.chosen.spot;
    if (spot) points.push([spot.lat - 8e-4, spot.lng - 8e-4], [spot.lat + 8e-4, spot.lng + 8e-4]);
    const tile = lake.tileById.get(lake.chosen.tile);
    if (tile) points.push([tile.bounds[1], tile.bounds[0]], [tile.bounds[3], tile.bounds[2]]);
    return points.length ? L.latLngBounds(points) : null;
  }

  function outlined() {
    const asked = lake.reachById.get(lake.chosen.asked), photo = lake.photoById.get(lake.chosen.photo);
    return asked ? asked.shownBy.length > 0 : Boolean(photo && photo.view);
  }

  // Brings the choice into sight; `still` leaves the zoom alone, for a reader who is already looking there, unless
  // what a photograph shows is larger than the map; `bank` looks at the bank alone; `first`: the whole lake is in sight.
  lake.lookAt = function (how) {
    const still = how.still, bounds = chosenBounds(how.bank), around = outlined() && !how.bank;
    if (how.first && !bounds) return;
    map.invalidateSize({ pan: false });
    const animate = how.animate && !lake.still;
    if (!bounds) {
      if (!still) wholeLake(animate);
      return;
    }
    const seen = map.getBounds(), inside = seen.pad(-0.08).contains(bounds);
    // A tile fills the map, outlines need little about them, a bank alone wants to be seen where it lies.
    const room = lake.chosen.tile ? 0.05 : around ? 0.08 : 1;
    const closer = map.getBoundsZoom(bounds.pad(room)) - map.getZoom(), small = closer > 1.2, large = around && closer < 0;
    if (inside && (still || !small)) return;
    if (still && !small && !large) map.panInside(bounds.getCenter(), { padding: [60, 60], animate: animate });
    else map.fitBounds(bounds.pad(room), Object.assign({ maxZoom: 18, animate: animate }, around ? clear() : {}));
  };

  // Map ----------------------------------------------------------------------------------------------------------

  function startMap() {
    L.control.scale({ metric: !ATLAS.imperial, imperial: ATLAS.imperial, maxWidth: 130, position: "bottomleft" }).addTo(map);
    map.getContainer().setAttribute("aria-label", lake.word("script-map"));
    map.getContainer().setAttribute("role", "application");
    map.on("click", function (event) {
      if (lake.takeTap(event.latlng)) return;
      const anchor = lake.find(map, event.containerPoint, event.latlng);
      if (anchor) lake.go(anchor, { still: true });
    });
    map.on("mousemove", function (event) {
      map.getContainer().classList.toggle("over", lake.over(map, event.containerPoint));
    });
    document.querySelector("[data-zoom=in]").addEventListener("click", function () { map.zoomIn(); });
    document.querySelector("[data-zoom=out]").addEventListener("click", function () { map.zoomOut(); });
    document.querySelector("[data-zoom=lake]").addEventListener("click", function () { wholeLake(true); });
    let settle = 0;
    new ResizeObserver(function () {
      clearTimeout(settle);
      settle = setTimeout(function () { map.invalidateSize({ pan: true }); }, 120);
    }).observe(map.getContainer());
  }

  // Keys and fingers ---------------------------------------------------------------------------------------------

  function turn(way) {
    const link = lake.beside(way);
    if (link) link.click();
    else if (lake.asking()) lake.say(lake.word("script-find-no-next"));
    else lake.say(lake.word(way > 0 ? "script-last-page" : "script-first-page"));
  }

  function startKeys() {
    document.addEventListener("keydown", function (event) {
      if (event.altKey || event.ctrlKey || event.metaKey || lake.root.dataset.mode === "list") return;
      if (event.key === "Escape" && lake.root.dataset.shown !== "start") lake.go("start");
      if (event.target.closest(".leaflet-container, [role=slider], input, select, textarea, dialog")) return;
      if (event.key === "ArrowLeft") turn(-1);
      if (event.key === "ArrowRight") turn(1);
    });
  }

  function startSwipes() {
    const room = document.getElementById("pages");
    let from = null;
    room.addEventListener("touchstart", function (event) {
      const one = event.touches.length === 1 && !event.target.closest(".scroll, .frame, .walk, .pano");
      from = one ? event.touches[0] : null;
    }, { passive: true });
    room.addEventListener("touchend", function (event) {
      if (!from || lake.root.dataset.mode === "list") return;
      const to = event.changedTouches[0];
      const across = to.clientX - from.clientX, down = to.clientY - from.clientY;
      from = null;
      if (Math.abs(across) > SWIPE_PX && Math.abs(across) > 2 * Math.abs(down)) turn(across < 0 ? 1 : -1);
    }, { passive: true });
  }

  function keyByWidth() {
    document.querySelector(".key").open = wide.matches;
  }

  for (const button of document.querySelectorAll("button[data-question]")) {
    button.addEventListener("click", function () { ask(button.dataset.question); });
  }
  wide.addEventListener("change", keyByWidth);
  keyByWidth();
  // The view first, once all stands that takes room from it: what is laid on the map before would be drawn twice.
  lake.takeAddress(location.hash);
  lake.tellPictures(lake.root.dataset.view);
  map.invalidateSize({ pan: false });
  wholeLake(false);
  // Once more, so that the map takes its centre from its pixels: a change of size and back leaves it where it was.
  map.invalidateSize({ pan: false });
  lake.startViews(map);
  startMap();
  lake.startStrip();
  lake.startSheet();
  lake.startAddress();
  lake.startGround();
  lake.addInk(map);
  startKeys();
  startSwipes();
  lake.onTheme(function () {
    lake.showGround(lake.root.dataset.view);
    lake.repaint();
  });
  // The map, the strip and the page asked for stand, and answer.
  performance.mark("atlas-ready");
  lake.tellShown();
  // The browser scrolls to the address by itself once all is loaded; a page begins at its top.
  addEventListener("load", function () {
    if (lake.root.dataset.mode === "map") document.getElementById("pages").scrollTop = 0;
    lake.root.classList.add("ready");
  });
})();
