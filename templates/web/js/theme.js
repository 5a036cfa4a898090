// Colours and weights for what is drawn on a canvas. They stand in css/type.css as variables; the themes differ there only.
"use strict";
(function () {
  // Depth tints are the book's (data.js carries them); in the dark their ramp is mixed with night blue, the deep more.
  const NIGHT = [16, 27, 36];
  // In the sun a tint is gone, and a fine line with it. Ours.
  const SUN_WEIGHT = 1.7, LARGEST_LETTERS = 1.6;
  const styles = getComputedStyle(lake.root);
  // To ask for a style makes the browser work out all styles first; a theme's colours do not change.
  const asked = new Map();

  lake.still = matchMedia("(prefers-reduced-motion: reduce)").matches;

  lake.colour = function (name) {
    const key = lake.root.dataset.theme + " " + name;
    if (!asked.has(key)) asked.set(key, styles.getPropertyValue("--" + name).trim());
    return asked.get(key);
  };

  lake.sunlit = function () {
    return lake.root.dataset.theme === "sunlight";
  };

  // Lines are this many times as thick, and never pale in the sun.
  lake.weight = function () {
    return lake.sunlit() ? SUN_WEIGHT : 1;
  };

  // Letters on the map grow with the reader's own letters, as far as a map bears it.
  lake.letters = function () {
    return Math.min(Math.max(parseFloat(styles.fontSize) / 16, 1), LARGEST_LETTERS);
  };

  lake.tint = function (shade) {
    const theme = lake.root.dataset.theme, share = Math.min(Math.max(shade, 0), 1);
    if (theme === "sunlight") return lake.colour("water");
    const ramp = theme === "dark" ? ATLAS.darkTints : ATLAS.tints;
    const colour = ramp[Math.round(share * (ramp.length - 1))];
    if (theme !== "dark") return colour;
    const night = 0.64 + 0.22 * share;
    const mixed = NIGHT.map(function (value, i) {
      return Math.round(value * night + parseInt(colour.substr(1 + 2 * i, 2), 16) * (1 - night));
    });
    return "rgb(" + mixed.join(",") + ")";
  };
})();
