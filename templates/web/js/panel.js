// The page beside the map: which part of the document shows, its large photograph, and what the map marks for it.
"use strict";
(function () {
  const room = document.getElementById("pages");
  const said = document.querySelector("[data-said]");
  // Long enough that a finger pulling along the strip does not load every photograph it passes.
  const LARGE_AFTER_MS = 140;
  let waiting = 0;

  function clear() {
    for (const node of room.querySelectorAll(".chosen, .holds")) node.classList.remove("chosen", "holds");
    for (const image of room.querySelectorAll("img[data-thumb]")) {
      image.src = image.dataset.thumb;
      delete image.dataset.thumb;
    }
    for (const link of room.querySelectorAll("[aria-current]")) link.removeAttribute("aria-current");
    lake.undressPhoto();
    lake.clearBeside();
    lake.clearPano();
    lake.clearViews();
    lake.clearMarking();
    lake.clearLevel();
    lake.chosen = { page: null, photo: null, reaches: [], tile: null, asked: null, spot: null };
  }

  function open(node, shown) {
    lake.root.dataset.mode = "map";
    lake.root.dataset.shown = shown;
    node.classList.add("chosen");
    const section = node.closest("section.tile, section.bare, section.landmarks");
    if (section && section !== node) section.classList.add("holds");
    room.scrollTop = 0;
  }

  function enlarge(figure) {
    const image = figure.querySelector("img"), link = figure.querySelector("a.frame");
    figure.classList.add("chosen");
    link.setAttribute("aria-current", "true");
    lake.dressPhoto(figure);
    clearTimeout(waiting);
    waiting = setTimeout(function () {
      // Where there is no larger picture, the link leads to the photograph's place in this page.
      if (!figure.classList.contains("chosen") || link.getAttribute("href").startsWith("#")) return;
      image.dataset.thumb = image.getAttribute("src");
      image.src = link.getAttribute("href");
    }, LARGE_AFTER_MS);
  }

  // The photograph that shows a bank best: one of the page's own if any shows it, else one of another page, else null.
  function best(figures, reachId) {
    const reach = lake.reachById.get(reachId);
    const shows = reach ? lake.shownBy(reach).map(function (one) { return one.photo.id; }) : [];
    return shows.find(function (id) {
      return figures.some(function (one) { return one.id === "photo-" + id; });
    }) || shows[0] || null;
  }

  // A bank that no photograph of its own shows is led by the best of another page.
  function lead(article, photoId) {
    const photo = lake.photoById.get(photoId), own = lake.node("photo-" + photoId);
    if (!own) return;
    const list = document.createElement("ol"), figure = own.cloneNode(true), link = document.createElement("a");
    list.className = "figures lead";
    figure.removeAttribute("id");
    figure.classList.add("lead");
    link.href = "#photo-" + photoId;
    link.textContent = lake.word("script-picture", { page: photo.page, number: photo.number });
    figure.querySelector(".number").replaceWith(link);
    for (const node of figure.querySelectorAll(".how, .level-then")) node.remove();
    list.append(figure);
    article.querySelector(".page-head").after(list);
    enlarge(figure);
    lake.tellBeside(figure, photo);
  }

  // What the outlines on the map say, in words.
  function toldOnMap() {
    const reach = lake.reachById.get(lake.chosen.asked), photo = lake.photoById.get(lake.chosen.photo);
    if (reach) return " " + lake.word("script-told-reach", { reach: reach.id, words: lake.shownWords(reach, true) });
    return photo ? " " + lake.viewWords(photo) : "";
  }

  function titleOf(node) {
    return node.querySelector("h2, h3");
  }

  // The small picture of a photograph, as the page itself has it; null where it is left out.
  lake.smallPicture = function (photoId) {
    const figure = lake.node("photo-" + photoId), image = figure && figure.querySelector("a.frame img");
    return image && (image.dataset.thumb || image.getAttribute("src"));
  };

  lake.say = function (text) {
    said.textContent = text;
  };

  lake.showPage = function (article, photoId, reachId) {
    clear();
    open(article, "page");
    const figures = Array.from(article.querySelectorAll(".figure"));
    const number = Number(article.dataset.page), wanted = photoId || best(figures, reachId);
    const elsewhere = !photoId && wanted && lake.photoById.get(wanted).page !== number;
    const figure = elsewhere ? null : figures.find(function (one) { return one.id === "photo-" + wanted; }) || figures[0];
    const reaches = ATLAS.reaches.filter(function (reach) { return reach.pages.includes(number); })
      .map(function (reach) { return reach.id; });
    lake.chosen.page = number;
    lake.chosen.reaches = reaches;
    if (figure) {
      enlarge(figure);
      lake.chosen.photo = figure.querySelector("a.frame").dataset.photo;
    }
    lake.chosen.asked = lake.reachById.has(reachId) ? reachId : null;
    if (lake.chosen.asked && !reaches.includes(reachId)) lake.chosen.reaches = [reachId];
    lake.markStrip(reachId || reaches[0]);
    if (elsewhere) lead(article, wanted);
    else if (figure) lake.tellBeside(figure, lake.photoById.get(lake.chosen.photo));
    lake.layPano(article);
    lake.tellViews(article);
    lake.tellLevel(article);
    lake.tellMarking(article);
    const count = figure && figures.length > 1 ? " " + lake.word("script-told-photograph", { number: figures.indexOf(figure) + 1, count: figures.length }) : "";
    lake.say(lake.word("script-told-page", { page: number, title: titleOf(article).textContent }) + count + toldOnMap());
    return titleOf(article);
  };

  lake.showBare = function (article, reachId) {
    clear();
    open(article, "reach");
    lake.chosen.reaches = [reachId];
    lake.chosen.asked = reachId;
    const shows = best([], reachId);
    if (shows) lead(article, shows);
    lake.markStrip(reachId);
    lake.tellViews(article);
    lake.tellLevel(article);
    lake.tellMarking(article);
    const own = lake.isShown(lake.reachById.get(reachId)) ? " " + lake.word("script-no-own-page") : "";
    lake.say(titleOf(article).textContent + "." + own + toldOnMap());
    return titleOf(article);
  };

  lake.showTile = function (section, tileId) {
    clear();
    lake.unfoldAll(section);
    open(section, "tile");
    lake.chosen.tile = tileId;
    lake.tellLevel(section);
    lake.markStrip(null);
    lake.say(titleOf(section).textContent + ". " + section.querySelector(".under").textContent);
    return titleOf(section);
  };

  // A part of the sheet that is no page: "Find" and the like.
  lake.showPanel = function (section, name) {
    clear();
    open(section, name);
    lake.markStrip(null);
  };

  lake.showStart = function () {
    clear();
    lake.root.dataset.mode = "map";
    lake.root.dataset.shown = "start";
    room.scrollTop = 0;
    lake.markStrip(null);
    lake.say(lake.word("script-whole-lake"));
    return document.getElementById("start-title");
  };

  // Heights of pages that were never drawn are guesses: what is drawn on the way moves the target on.
  function reach(target, times) {
    target.scrollIntoView();
    if (times) requestAnimationFrame(function () { reach(target, times - 1); });
  }

  lake.showList = function (target) {
    clear();
    lake.root.dataset.mode = "list";
    lake.root.dataset.shown = "list";
    lake.say(lake.word("script-list"));
    if (target && target.id !== "list") reach(target, 3);
    else room.scrollTop = 0;
    lake.unfoldSlowly();
  };

  // The page before or after along the shore, from wherever the reader is; null at either end.
  lake.beside = function (way) {
    if (lake.asking()) return lake.besideAnswer(way);
    const node = room.querySelector(".page.chosen, .tile.chosen");
    if (!node) return way > 0 && ATLAS.pages.length ? lake.page(ATLAS.pages[0].number).querySelector("h3 a") : null;
    if (node.matches(".tile")) return way > 0 ? node.querySelector(".page h3 a") : null;
    if (node.matches(".bare-reach")) {
      const near = node.querySelectorAll(".doors a");
      return near[way > 0 ? near.length - 1 : 0] || null;
    }
    return node.querySelector(way > 0 ? "[rel=next]" : "[rel=prev]");
  };
})();
