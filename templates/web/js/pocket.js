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
})();
