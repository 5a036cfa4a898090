// What stands along the foot of the map lifts the buttons and the scale above it, however high it is.
"use strict";
(function () {
  const room = document.querySelector(".lake"), foot = document.querySelector(".map-foot");
  new ResizeObserver(function () {
    room.style.setProperty("--foot", foot.offsetHeight + "px");
  }).observe(foot);

  // Longer than the sheet takes to slide.
  const SHEET_MS = 240;

  // On a phone the sheet makes room for the map while a row is open.
  lake.makeRoom = function (opened) {
    if (matchMedia("(min-width: 900px), (min-width: 700px) and (orientation: landscape)").matches) return;
    if (opened) lake.sheet("low");
    else if (lake.root.dataset.sheet === "low") lake.sheet("half");
    if (lake.root.dataset.shown === "start") setTimeout(function () { lake.lookAt({ animate: true }); }, SHEET_MS);
  };
})();
