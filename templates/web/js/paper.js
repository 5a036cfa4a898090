// Before the page goes to paper: its address in words, and no picture left waiting to be looked at.
"use strict";
(function () {
  const foot = document.querySelector("[data-print-address]");

  // The path of a file on the reader's own disk is nobody else's business.
  function address() {
    return location.protocol === "file:" ? location.pathname.split("/").pop() + location.hash : location.href;
  }

  addEventListener("beforeprint", function () {
    foot.textContent = address();
    for (const image of document.querySelectorAll(".page.chosen img, .tile.chosen img")) image.loading = "eager";
  });
})();
