// Runs before the page is drawn: without it the page is a plain list on paper, with it a map in the reader's light.
"use strict";
var lake = { root: document.documentElement };
lake.root.classList.add("js");
lake.root.dataset.mode = "map";
// Where a script is missing or stopped, the page is what it is without scripts: everything, as a list.
addEventListener("load", function () {
  setTimeout(function () {
    if (lake.root.classList.contains("ready")) return;
    lake.root.classList.remove("js");
    lake.root.dataset.mode = "list";
    for (let leaf; (leaf = document.querySelector("noscript")); leaf.remove()) leaf.insertAdjacentHTML("beforebegin", leaf.textContent);
  }, 0);
});
(function () {
  const KEY = "atlas-light", LIGHTS = ["paper", "dark", "sunlight"];
  const dark = matchMedia("(prefers-color-scheme: dark)"), contrast = matchMedia("(prefers-contrast: more)");
  const told = [];
  let wish = "device";

  // A browser may keep nothing for files: then the choice holds until the page is left.
  function keep(use) {
    try {
      return use(localStorage);
    } catch (error) {
      return null;
    }
  }

  // Who asks the device for more contrast by day is given the most there is.
  function ofDevice() {
    return dark.matches ? "dark" : contrast.matches ? "sunlight" : "paper";
  }

  function shine() {
    lake.root.dataset.theme = wish === "device" ? ofDevice() : wish;
    for (const repaint of told) repaint();
  }

  lake.light = function () {
    return wish;
  };

  lake.setLight = function (light) {
    wish = LIGHTS.includes(light) ? light : "device";
    keep(function (store) { store.setItem(KEY, wish); });
    shine();
  };

  // `repaint` is called whenever the colours have changed.
  lake.onTheme = function (repaint) {
    told.push(repaint);
  };

  const kept = keep(function (store) { return store.getItem(KEY); });
  if (LIGHTS.includes(kept)) wish = kept;
  shine();
  for (const query of [dark, contrast]) query.addEventListener("change", shine);
})();
