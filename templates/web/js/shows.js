// In words beside the map: what the chosen photograph shows, and which photographs show the chosen bank, as links.
"use strict";
(function () {
  function make(name, className, text) {
    const node = document.createElement(name);
    if (className) node.className = className;
    if (text !== undefined) node.textContent = text;
    return node;
  }

  // A new element with a class and words, for all scripts.
  lake.make = make;

  // As the book writes distances: two figures that matter.
  lake.distanceWords = function (metres) {
    const small = ATLAS.imperial ? metres / 0.3048 : metres, large = metres / (ATLAS.imperial ? 1609.344 : 1000);
    if (small >= 995) return lake.length(lake.number(large, 1), ATLAS.imperial ? "miles" : "kilometres");
    return lake.length(Number(small < 10 ? small.toFixed(0) : small.toPrecision(2)), ATLAS.imperial ? "feet" : "metres");
  };

  function shareWords(percent) {
    if (percent === 100) return lake.word("script-share-all");
    return percent < 2 ? lake.word("script-share-little") : lake.word("script-share", { percent: percent });
  }

  // What a reader who does not see the map is told at once.
  lake.viewWords = function (photo) {
    const view = lake.viewOf(photo);
    if (!view) return lake.word("script-not-outlined", { why: photo.noView });
    const reaches = lake.reachesOf(photo).length;
    if (!view.seen) return lake.word("script-only-water");
    return lake.word("script-shows", { distance: lake.distanceWords(view.seen), reaches: Math.max(reaches, 1) });
  };

  lake.shownWords = function (reach, outlined) {
    const count = reach.shownBy.length / 3;
    if (!count) return lake.word("script-shown-by-none");
    return lake.word(outlined ? "script-shown-by-outlined" : "script-shown-by", { count: count });
  };

  function link(anchor, words, after) {
    const item = make("li"), node = make("a", "", words);
    node.href = "#" + anchor;
    item.append(node);
    if (after) item.append(" ", make("span", "", after));
    return item;
  }

  // The picture belongs to the words below it, so that it is one thing to choose.
  function picture(one) {
    const item = make("li"), node = make("a"), image = make("img"), small = lake.smallPicture(one.photo.id);
    node.href = "#photo-" + one.photo.id;
    node.dataset.view = one.photo.id;
    image.alt = "";
    image.loading = "lazy";
    if (small) image.src = small;
    node.append(small ? image : "", make("span", "", lake.word("script-picture", { page: one.photo.page, number: one.photo.number })));
    item.append(node, make("small", "", lake.word("script-picture-under", { share: shareWords(one.percent), distance: lake.distanceWords(one.off) })));
    return item;
  }

  function section(className, heading, words, below) {
    const node = make("section", "note " + className);
    node.append(make("h4", "", heading), make("p", "", words));
    node.append.apply(node, below);
    return node;
  }

  function ofPhoto(photo) {
    const items = lake.reachesOf(photo).map(function (one) {
      const words = lake.word("script-reach", { reach: one.reach.id, name: one.reach.name });
      return link(lake.anchor("reach", one.reach.id), words, shareWords(one.percent));
    });
    const banks = make("details", "more");
    banks.append(make("summary", "", lake.word("script-banks", { count: items.length })), make("ul", "doors"));
    banks.lastChild.append.apply(banks.lastChild, items);
    return section("note-shows", lake.word("script-this-photograph"), lake.viewWords(photo), items.length ? [banks] : []);
  }

  function ofReach(reach) {
    const shows = lake.shownBy(reach), outlined = lake.chosen.asked === reach.id, list = make("ol", "scroll thumbs");
    list.append.apply(list, shows.map(picture));
    const words = lake.shownWords(reach, outlined) + (shows.length > 1 ? " " + lake.word("script-best-first") : "");
    const node = section("note-shown-by", lake.word("script-photographs-of", { reach: reach.id }), words, shows.length ? [list] : []);
    if (!outlined && shows.length > 1) {
      const all = make("a", "", lake.word("script-outline-all"));
      all.href = "#" + lake.anchor("reach", reach.id);
      node.querySelector("p").append(" ", all);
    }
    return node;
  }

  // A link under the pointer or the keyboard shows its own photograph's view on the map, until it is left.
  function follow(node) {
    const point = function (event) {
      const one = event.target.closest("[data-view]");
      if (one) lake.drawViews(one.dataset.view);
    };
    const leave = function () { lake.drawViews(null); };
    node.addEventListener("pointerover", point);
    node.addEventListener("focusin", point);
    node.addEventListener("pointerleave", leave);
    node.addEventListener("focusout", leave);
  }

  // Puts the words where the page has its own, the question asked first: a bank's photographs, or a photograph's banks.
  lake.tellViews = function (article) {
    const room = make("div", lake.chosen.asked ? "shows asked" : "shows"), reach = lake.reachById.get(lake.chosen.asked || lake.chosen.reaches[0]);
    const photo = lake.photoById.get(lake.chosen.photo);
    if (photo && !lake.chosen.asked) room.append(ofPhoto(photo));
    if (reach) room.append(ofReach(reach));
    follow(room);
    article.insertBefore(room, article.querySelector(".words"));
  };

  lake.clearViews = function () {
    for (const node of document.querySelectorAll(".shows")) node.remove();
  };
})();
