// "Light": as the device says, paper, dark, or sunlight. What it does to the colours stands in first.js and the style sheets.
"use strict";
(function () {
  const box = document.querySelector(".light"), choices = box.querySelectorAll("input");

  function close(focus) {
    box.open = false;
    if (focus) box.querySelector("summary").focus();
  }

  for (const choice of choices) {
    choice.checked = choice.value === lake.light();
    choice.addEventListener("change", function () { lake.setLight(choice.value); });
  }
  box.addEventListener("keydown", function (event) {
    if (event.key !== "Escape" || !box.open) return;
    event.stopPropagation();
    close(true);
  });
  document.addEventListener("pointerdown", function (event) {
    if (!box.contains(event.target)) close(false);
  });
  box.addEventListener("focusout", function (event) {
    if (event.relatedTarget && !box.contains(event.relatedTarget)) close(false);
  });
})();
