// The pocket edition: a photograph's picture stands once in the page, and is shown from there wherever it is wanted.
"use strict";
(function () {
  // The compass of a turn-around set has only places for its pictures.
  function fill(node) {
    for (const image of node.querySelectorAll("image[data-picture]")) {
      const small = lake.smallPicture(image.dataset.picture);
      if (small) image.setAttribute("href", small);
    }
  }

  fill(document);
  lake.onUnfold(fill);

  const large = document.createElement("dialog");
  if (!large.showModal) return;
  const picture = document.createElement("img"), words = document.createElement("p"), close = document.createElement("button");
  close.type = "button";
  close.textContent = lake.word("script-close");
  large.className = "large";
  large.setAttribute("aria-label", lake.word("script-large"));
  large.append(picture, words, close);
  document.body.append(large);
  large.addEventListener("click", function (event) {
    if (event.target !== words) large.close();
  });
  // Keys belong to the photograph while it covers the page.
  large.addEventListener("keydown", function (event) { event.stopPropagation(); });

  document.addEventListener("click", function (event) {
    const link = event.target.closest("a.frame[aria-current]"), image = link && link.querySelector("img");
    if (!image || event.button || event.ctrlKey || event.metaKey || event.shiftKey) return;
    event.preventDefault();
    picture.src = image.src;
    picture.alt = image.alt;
    words.textContent = link.closest(".figure").querySelector(".caption").textContent;
    large.showModal();
  });
})();
