// Every place has an address: #page-003, #photo-..., #reach-S-0142, #tile-16/1/2, #find, #list. Back and bookmarks work.
// What is set beside the place stands behind `?`; see parts.js.
"use strict";
(function () {
  let lastPlace = "start";
  // Where a viewer does not let a page change its address, it is kept here; Back then leaves the atlas.
  let kept = null;

  function show(anchor) {
    const kind = anchor.split("-")[0];
    const node = lake.node(anchor);
    if (kind === "photo" && node && node.closest(".page")) return lake.showPage(node.closest(".page"), anchor.slice(6), null);
    if (kind === "reach" && node) {
      if (node.matches(".bare-reach")) return lake.showBare(node, lake.decode(anchor.slice(6)));
      return lake.showPage(node.closest(".page"), null, lake.decode(anchor.slice(6)));
    }
    if (kind === "reach") return showReachOfPage(lake.decode(anchor.slice(6)));
    if (kind === "spot") return lake.showSpot(anchor.slice(5));
    if (kind === "tile" && node && node.matches(".tile")) return lake.showTile(node, lake.decode(anchor.slice(5)));
    if (anchor === "marks" || kind === "mark") return lake.showMarks(anchor.slice(5));
    if (kind === "landmark" && node) return lake.showLandmark(node, anchor.slice(9));
    if (kind === "page" && node && node.matches(".page")) return lake.showPage(node, null, null);
    if (anchor === "find") return lake.showFind();
    if (anchor && anchor !== "start" && node && node.closest("#list")) return lake.showList(node);
    return lake.showStart();
  }

  function showReachOfPage(reachId) {
    const reach = lake.reachById.get(reachId);
    const page = reach && lake.pageByNumber.get(reach.pages[0]);
    return page ? lake.showPage(lake.node(page.id), null, reachId) : lake.showStart();
  }

  function current() {
    return (kept === null ? location.hash.slice(1) : kept).split("?")[0];
  }

  function note(anchor, replace) {
    try {
      history[replace ? "replaceState" : "pushState"]({ ours: true }, "", "#" + anchor + lake.addressTail());
    } catch (error) {
      kept = anchor;
    }
  }

  function arrive(options) {
    // A place whose page has not come yet is shown when it has.
    if (document.readyState === "loading" && current() && !document.getElementById(current())) {
      lake.whenWhole(function () { arrive(options); });
      return;
    }
    const wasMap = lake.root.dataset.mode === "map";
    const heading = show(current());
    if (lake.root.dataset.mode === "map") {
      lastPlace = current() || "start";
      if (lake.root.dataset.shown !== "start") lake.raiseSheet();
      // Lists leave the map where it is.
      const listed = ["find", "marks"].includes(lake.root.dataset.shown) && !lake.chosen.mark;
      if (!listed) lake.lookAt({ still: options.still && wasMap, bank: options.replace, animate: !options.first, first: options.first });
    }
    lake.markQuestion();
    lake.tellHere();
    lake.markAnswer();
    lake.drawViews(null);
    lake.repaint();
    if (heading && options.focus !== false) heading.focus({ preventScroll: true });
  }

  // `replace`: no step for Back; `focus`: move the keyboard to the title; `still`: do not zoom, only keep in sight.
  lake.go = function (anchor, options) {
    const how = options || {}, place = anchor.split("?")[0];
    lake.tellAddress([]);
    lake.readTail(anchor);
    if (place !== current() || anchor !== place) note(place, how.replace);
    arrive(how);
  };

  // What is set stands behind the place, so that a bookmark brings it back.
  lake.noteAddress = function () {
    note(current(), true);
  };

  lake.takeAddress = function (hash) {
    lake.readTail(hash);
    if (location.hash.includes("?") || lake.addressTail()) lake.noteAddress();
  };

  lake.lastPlace = function () {
    return lastPlace;
  };

  lake.startAddress = function () {
    addEventListener("popstate", function (event) {
      if (!event.state) lake.takeAddress(location.hash);
      else lake.noteAddress();
      arrive({});
    });
    document.addEventListener("click", function (event) {
      const link = event.target.closest("a[href]");
      if (!link || event.defaultPrevented || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
      const href = link.getAttribute("href");
      if (link.matches("[data-skip]")) {
        event.preventDefault();
        (document.querySelector(".chosen h2, .chosen h3") || document.getElementById("start-title")).focus();
      } else if (link.matches("a.frame") && !link.hasAttribute("aria-current")) {
        event.preventDefault();
        lake.go("photo-" + link.dataset.photo, { focus: lake.root.dataset.mode === "list" });
      } else if (href.startsWith("#")) {
        event.preventDefault();
        lake.go(href.slice(1));
      }
    });
    arrive({ focus: false, first: true });
  };
})();
