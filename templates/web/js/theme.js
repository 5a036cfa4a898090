// Colours for what is drawn on a canvas. They stand in css/type.css as variables; dark and paper differ there only.
"use strict";
(function () {
  // Depth tints are the book's (data.js carries them); in the dark their ramp is mixed with night blue, the deep more.
  const NIGHT = [16, 27, 36];
  const darkNow = matchMedia("(prefers-color-scheme: dark)");
  let styles = getComputedStyle(document.documentElement);

  lake.still = matchMedia("(prefers-reduced-motion: reduce)").matches;

  lake.colour = function (name) {
    return styles.getPropertyValue("--" + name).trim();
  };

  lake.tint = function (shade) {
    const share = Math.min(Math.max(shade, 0), 1);
    const ramp = darkNow.matches ? ATLAS.darkTints : ATLAS.tints;
    const colour = ramp[Math.round(share * (ramp.length - 1))];
    if (!darkNow.matches) return colour;
    const night = 0.5 + 0.36 * share;
    const mixed = NIGHT.map(function (value, i) {
      return Math.round(value * night + parseInt(colour.substr(1 + 2 * i, 2), 16) * (1 - night));
    });
    return "rgb(" + mixed.join(",") + ")";
  };

  lake.onTheme = function (repaint) {
    darkNow.addEventListener("change", function () {
      styles = getComputedStyle(document.documentElement);
      repaint();
    });
  };
})();
