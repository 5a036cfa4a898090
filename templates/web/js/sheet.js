// On a phone the page is a sheet below the map; it can be low, half or tall, by tap, by drag, or by itself.
"use strict";
(function () {
  const SIZES = ["low", "half", "tall"];
  const bar = document.querySelector(".sheet-bar");
  const room = document.getElementById("pages");
  let from = null;

  lake.sheet = function (size) {
    lake.root.dataset.sheet = size;
  };

  // Something was chosen: make sure that it can be seen.
  lake.raiseSheet = function () {
    if (lake.root.dataset.sheet === "low") lake.sheet("half");
  };

  function step(way) {
    const now = SIZES.indexOf(lake.root.dataset.sheet);
    lake.sheet(SIZES[Math.min(Math.max(now + way, 0), SIZES.length - 1)]);
  }

  lake.startSheet = function () {
    let dragged = false;
    bar.querySelector("[data-sheet-step]").addEventListener("click", function () {
      if (dragged) return;
      lake.sheet({ low: "half", half: "tall", tall: "low" }[lake.root.dataset.sheet]);
    });
    bar.addEventListener("pointerdown", function (event) {
      from = { y: event.clientY, height: room.offsetHeight };
      dragged = false;
    });
    addEventListener("pointermove", function (event) {
      if (!from || Math.abs(event.clientY - from.y) < 6) return;
      dragged = true;
      lake.root.classList.add("dragging");
      lake.root.style.setProperty("--sheet", from.height + from.y - event.clientY + "px");
    });
    const end = function (event) {
      if (!from) return;
      const moved = from.y - event.clientY;
      from = null;
      lake.root.classList.remove("dragging");
      lake.root.style.removeProperty("--sheet");
      if (Math.abs(moved) > 30) step(moved > 0 ? 1 : -1);
    };
    addEventListener("pointerup", end);
    addEventListener("pointercancel", end);
  };
})();
