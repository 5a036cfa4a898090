// Two photographs of one bank: side by side, or in one place, where a press or a key changes them; nothing by itself.
"use strict";
(function () {
  const box = document.querySelector("dialog.beside");
  const panes = Array.from(box.querySelectorAll("figure"));
  const flipButton = box.querySelector("[data-does=flip]"), other = box.querySelector("[data-does=other]");
  let shown = [], choices = [], flipped = false, second = false, opener = null;

  for (const pane of panes) pane.prepend(document.createElement("img"));

  function pairsOf(photo) {
    return ATLAS.repeats.pairs.map(function (pair) {
      const two = pair.photos.map(function (place) { return ATLAS.photos[place]; });
      const here = two.indexOf(photo);
      return here < 0 ? null : { words: pair.words, photo: two[1 - here] };
    }).filter(Boolean);
  }

  function pairOf(one, two) {
    return pairsOf(one).find(function (pair) { return pair.photo === two; }) || null;
  }

  function figureOf(photo) {
    return lake.node("photo-" + photo.id);
  }

  function fill(pane, photo) {
    const figure = figureOf(photo), link = figure.querySelector("a.frame"), image = pane.querySelector("img"), href = link.getAttribute("href");
    const own = link.querySelector("img"), where = pane.querySelector("[data-where]");
    if (own) image.src = href.startsWith("#") ? own.src : href;
    else image.removeAttribute("src");
    image.alt = own ? own.alt : link.textContent;
    pane.querySelector("[data-when]").textContent = photo.when;
    pane.querySelector("[data-words]").textContent = figure.querySelector(".caption span").textContent;
    where.href = "#photo-" + photo.id;
    where.textContent = lake.word("script-picture", { page: photo.page, number: photo.number });
  }

  function lay() {
    const pair = pairOf(shown[0], shown[1]);
    panes.forEach(function (pane, i) {
      fill(pane, shown[i]);
      pane.classList.toggle("under", flipped && i !== (second ? 1 : 0));
      pane.setAttribute("aria-hidden", String(flipped && i !== (second ? 1 : 0)));
    });
    box.classList.toggle("flip", flipped);
    flipButton.setAttribute("aria-pressed", String(flipped));
    other.hidden = !flipped;
    box.querySelector("[data-told]").textContent = pair ? pair.words + " " + ATLAS.repeats.limits : lake.word("script-beside-apart");
    for (const button of box.querySelectorAll("[data-choose]")) {
      button.setAttribute("aria-pressed", String(button.dataset.choose === shown[1].id));
    }
  }

  function choice(photo) {
    const item = document.createElement("li"), button = document.createElement("button"), small = lake.smallPicture(photo.id);
    button.type = "button";
    button.dataset.choose = photo.id;
    if (small) {
      const image = document.createElement("img");
      image.src = small;
      image.alt = "";
      image.loading = "lazy";
      button.append(image);
    }
    const words = document.createElement("span");
    words.textContent = lake.word("script-picture", { page: photo.page, number: photo.number });
    const when = document.createElement("small");
    when.textContent = photo.when;
    button.append(words, when);
    item.append(button);
    return item;
  }

  // `first` and `two` are photographs, `more` those that the second may be chosen from; `flip`: in one place.
  lake.openBeside = function (first, two, more, flip) {
    if (!box.showModal) return lake.go("photo-" + two.id);
    shown = [first, two];
    choices = more;
    flipped = flip;
    second = false;
    opener = document.activeElement;
    box.querySelector("[data-choices]").replaceChildren.apply(box.querySelector("[data-choices]"), choices.map(choice));
    box.querySelector(".beside-choice").hidden = choices.length < 2;
    lay();
    box.showModal();
    (flip ? other : box.querySelector("[data-does=close]")).focus();
  };

  function change() {
    second = !second;
    lay();
    lake.say(shown[second ? 1 : 0].when);
  }

  box.addEventListener("click", function (event) {
    const button = event.target.closest("button"), link = event.target.closest("a");
    if (link) return box.close();
    if (flipped && event.target.closest("figure img")) return change();
    if (!button) return;
    if (button.dataset.choose) {
      shown[1] = lake.photoById.get(button.dataset.choose);
      second = flipped;
      lay();
    } else if (button.dataset.does === "flip") {
      flipped = !flipped;
      second = false;
      lay();
    } else if (button.dataset.does === "other") change();
    else box.close();
  });
  box.addEventListener("keydown", function (event) {
    event.stopPropagation();
    if (!flipped || event.altKey || event.ctrlKey || event.metaKey || event.target.closest("[data-choices]")) return;
    if (event.key !== "ArrowLeft" && event.key !== "ArrowRight") return;
    event.preventDefault();
    change();
  });
  box.addEventListener("close", function () {
    for (const pane of panes) pane.querySelector("img").removeAttribute("src");
    if (opener && opener.isConnected) opener.focus({ preventScroll: true });
  });

  function door(words, act) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "door";
    button.textContent = words;
    button.addEventListener("click", act);
    return button;
  }

  // The photographs that a reader may lay beside one: those of its bank, best first.
  function besides(photo) {
    const asked = lake.chosen.asked || lake.chosen.reaches[0], reach = lake.reachById.get(asked);
    return (reach ? lake.shownBy(reach) : []).map(function (one) { return one.photo; })
      .filter(function (one) { return one !== photo; });
  }

  // Under the photograph: its repeats, to be flipped in one place, and another of its bank, to be laid beside it.
  lake.tellBeside = function (figure, photo) {
    if (!photo || !figure.querySelector("a.frame img")) return;
    const row = document.createElement("p"), pairs = pairsOf(photo), near = besides(photo);
    row.className = "besides";
    for (const pair of pairs) {
      row.append(door(lake.word("script-beside-flip", { when: pair.photo.when }), function () {
        lake.openBeside(photo, pair.photo, pairs.map(function (one) { return one.photo; }), true);
      }));
    }
    if (near.length) {
      row.append(door(lake.word("script-beside-lay"), function () { lake.openBeside(photo, near[0], near, false); }));
    }
    if (row.childNodes.length) figure.querySelector(".caption").after(row);
  };

  lake.clearBeside = function () {
    for (const node of document.querySelectorAll(".besides")) node.remove();
  };
})();
