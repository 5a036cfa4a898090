// Pages lie folded in noscript elements: a reader without scripts has them all, and with scripts a page costs nothing
// until somebody asks for it, be the lake ever so large.
"use strict";
(function () {
  const WORK_MS = 24;
  const told = [];

  function unfold(leaf) {
    const around = document.createRange();
    around.selectNode(leaf);
    const inside = around.createContextualFragment(leaf.textContent), nodes = Array.from(inside.children);
    leaf.replaceWith(inside);
    for (const node of nodes) for (const tell of told) tell(node);
  }

  function leaves(selector) {
    return Array.from(document.querySelectorAll("noscript[data-leaf" + selector + "]"));
  }

  function pageOf(anchor) {
    const name = lake.decode(anchor.slice(anchor.indexOf("-") + 1));
    if (anchor.startsWith("page-")) return Number(name);
    if (anchor.startsWith("photo-")) return (lake.photoById.get(name) || {}).page;
    return anchor.startsWith("reach-") ? ((lake.reachById.get(name) || {}).pages || [])[0] : undefined;
  }

  // The name in an address; as it stands, where it is no encoding of one.
  lake.decode = function (text) {
    try {
      return decodeURIComponent(text);
    } catch (error) {
      return text;
    }
  };

  // Runs `use` once all pages have come and stand in their place; the map answers before that.
  lake.whenWhole = function (use) {
    if (document.readyState === "loading") addEventListener("DOMContentLoaded", use);
    else use();
  };

  lake.whenWhole(function () {
    const before = document.querySelector("[data-list-before]");
    before.parentNode.insertBefore(document.getElementById("list"), before);
  });

  // Runs `use` once the first view has been drawn: what nobody sees before need not hold it up.
  let unseen = [];
  lake.whenShown = function (use) {
    if (unseen) unseen.push(use);
    else use();
  };

  lake.tellShown = function () {
    requestAnimationFrame(function () {
      setTimeout(function () {
        performance.mark("atlas-shown");
        const uses = unseen;
        unseen = null;
        for (const use of uses) use();
      }, 0);
    });
  };

  // `tell` is called with each element that comes out of a fold.
  lake.onUnfold = function (tell) {
    told.push(tell);
  };

  lake.page = function (number) {
    for (const leaf of leaves("=\"" + Number(number) + "\"")) unfold(leaf);
    return document.querySelector(".page[data-page=\"" + Number(number) + "\"]");
  };

  // The element of an address, wherever it lies; null where there is none.
  lake.node = function (anchor) {
    const number = pageOf(anchor);
    if (!document.getElementById(anchor) && number) lake.page(number);
    // What is not on a page lies with the matter behind the pages, but places of the water lie nowhere.
    const behind = anchor && !/^(page|photo|tile|spot)-/.test(anchor);
    if (behind && !document.getElementById(anchor)) for (const leaf of leaves("=\"\"")) unfold(leaf);
    return document.getElementById(anchor);
  };

  // All pages within an element, at once.
  lake.unfoldAll = function (node) {
    for (const leaf of Array.from(node.querySelectorAll("noscript[data-leaf]"))) unfold(leaf);
  };

  // All there is, a little at a time, so that the reader is not held up.
  lake.unfoldSlowly = function () {
    const begin = performance.now();
    while (performance.now() - begin < WORK_MS) {
      const leaf = document.querySelector("noscript[data-leaf]");
      if (!leaf) return;
      unfold(leaf);
    }
    setTimeout(lake.unfoldSlowly, 0);
  };

  addEventListener("beforeprint", function () {
    if (lake.root.dataset.mode === "list") lake.unfoldAll(document);
  });
})();
