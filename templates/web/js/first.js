// Runs before the page is drawn: without it the page is a plain list, with it a map.
"use strict";
var lake = { root: document.documentElement };
lake.root.classList.add("js");
lake.root.dataset.mode = "map";
