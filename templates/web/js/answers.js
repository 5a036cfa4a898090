// The banks that fit, told at once in the panel, on the map and on the strip, and walked from one to the next.
"use strict";
(function () {
  const make = lake.make;
  const AT_ONCE = 24;
  const panel = document.getElementById("find"), bar = document.querySelector("[data-answering]");
  const list = panel.querySelector("[data-answers]"), more = panel.querySelector("[data-more-answers]");
  let found = ATLAS.reaches, shown = 0;

  function metres(reaches) {
    return reaches.reduce(function (sum, reach) { return sum + reach.to - reach.from; }, 0);
  }

  // List -----------------------------------------------------------------------------------------------------------

  function whereWords(reach) {
    return reach.pages.length ? lake.word("script-find-reach-page", { reach: reach.id, page: reach.pages[0] })
      : lake.word("script-find-reach", { reach: reach.id });
  }

  function item(reach) {
    const row = make("li"), link = make("a"), words = make("span", "answer-words"), best = lake.shownBy(reach)[0];
    const small = best && lake.smallPicture(best.photo.id);
    link.href = "#" + lake.anchor("reach", reach.id);
    if (small) {
      const image = make("img");
      image.alt = "";
      image.loading = "lazy";
      image.src = small;
      link.append(image);
    }
    words.append(make("b", "", reach.name), make("span", "answer-why", lake.whyItFits(reach)), make("small", "", whereWords(reach)));
    link.append(words);
    row.append(link);
    return row;
  }

  function showMore() {
    const next = found.slice(shown, shown + AT_ONCE), focus = document.activeElement === more;
    const rows = next.map(item);
    list.append.apply(list, rows);
    shown += next.length;
    const left = Math.min(found.length - shown, AT_ONCE);
    more.hidden = left === 0;
    more.textContent = left ? lake.word("script-find-more", { count: left }) : "";
    if (focus && rows.length) rows[0].firstChild.focus();
  }

  function countWords(unknown) {
    const facts = { count: found.length, length: lake.distanceWords(metres(found)), all: lake.distanceWords(metres(ATLAS.reaches)) };
    const words = [lake.word(lake.asking() ? "script-find-fit" : "script-find-all", facts)];
    const doubt = unknown ? lake.word("script-find-unknown", { count: unknown }) : "";
    const less = found.length ? "" : lake.word("script-find-less");
    return [words[0], [doubt, less].filter(Boolean).join(" ")];
  }

  function tell() {
    const unknown = ATLAS.reaches.filter(function (reach) { return lake.answerOf(reach) === lake.fits.UNKNOWN; }).length;
    const words = countWords(unknown), level = panel.querySelector("[data-asked-level]");
    panel.querySelector("[data-asked]").textContent = words[0];
    panel.querySelector("[data-asked-unknown]").textContent = words[1];
    panel.querySelector("[data-asked-unknown]").hidden = !words[1];
    panel.querySelector("[data-ask-clear]").hidden = !lake.asking();
    panel.querySelector("[data-examples]").hidden = lake.asking();
    panel.querySelector("[data-asked-depth]").hidden = !lake.asksDepths();
    level.hidden = lake.stage() === ATLAS.shownStage;
    level.textContent = lake.word("script-find-level", { level: lake.stageWords() });
    if (lake.root.dataset.shown === "find") lake.say(words.join(" "));
  }

  function renew() {
    found = lake.asking() ? lake.answers() : ATLAS.reaches;
    list.replaceChildren();
    more.hidden = true;
    shown = 0;
    tell();
    if (lake.asking() && found.length) showMore();
    lake.root.classList.toggle("asking", lake.asking());
    lake.markAnswer();
    lake.showAnswers();
    lake.drawStripAnswers();
  }

  // Walking --------------------------------------------------------------------------------------------------------

  // Where the reader is, as a place along the shore; -1 where nothing is chosen. Who looks through the photographs of an
  // answer's page is still at that answer.
  let at = -1;
  function here() {
    const of = lake.chosen.reaches, held = at >= 0 && of.includes(ATLAS.reaches[at].id) ? ATLAS.reaches[at].id : of[0];
    const reach = lake.reachById.get(lake.chosen.asked || held);
    at = reach ? reach.index : -1;
    return at;
  }

  function neighbour(way) {
    const from = here();
    if (way > 0) return found.find(function (reach) { return reach.index > from; });
    return from < 0 ? undefined : found.slice().reverse().find(function (reach) { return reach.index < from; });
  }

  // The link to the next answer along the shore, null at either end.
  lake.besideAnswer = function (way) {
    return neighbour(way) ? bar.querySelector("[data-answer=\"" + way + "\"]") : null;
  };

  function tellWhy(words) {
    const head = document.querySelector(".page.chosen > .page-head");
    if (words && head) head.after(make("p", "answer-line", words));
  }

  // The bar at the foot of the sheet, kept to the place that shows.
  lake.markAnswer = function () {
    const places = lake.root.dataset.shown;
    for (const line of document.querySelectorAll(".answer-line")) line.remove();
    bar.hidden = !lake.asking() || places === "find" || places === "list";
    if (bar.hidden) return;
    const from = here(), number = found.findIndex(function (reach) { return reach.index === from; }) + 1;
    bar.querySelector("[data-answer-words]").textContent = lake.word("script-find-place", { number: number, count: found.length });
    tellWhy(number ? lake.whyItFits(found[number - 1]) : "");
    for (const link of bar.querySelectorAll("[data-answer]")) {
      const next = neighbour(Number(link.dataset.answer));
      link.hidden = !next;
      link.href = next ? "#" + lake.anchor("reach", next.id) : "#find";
    }
  };

  lake.answerWords = function (reach) {
    const name = ["no", "unknown", "fits"][lake.answerOf(reach)];
    return lake.asking() ? " " + lake.word("script-find-slider", { answer: name }) : "";
  };

  lake.showFind = function () {
    lake.showPanel(panel, "find");
    tell();
    setTimeout(lake.readyBanks, 0);
    lake.say(panel.querySelector("[data-asked]").textContent);
    return document.getElementById("find-title");
  };

  more.addEventListener("click", showMore);
  new IntersectionObserver(function (seen) {
    if (seen.some(function (one) { return one.isIntersecting; }) && document.activeElement !== more) showMore();
  }, { root: document.getElementById("pages"), rootMargin: "200px" }).observe(more);
  bar.querySelector("[data-answers-off]").addEventListener("click", function () {
    lake.clearAsked();
    (document.querySelector(".chosen h2, .chosen h3") || document.getElementById("start-title")).focus();
  });
  lake.onAnswers(renew);
})();
