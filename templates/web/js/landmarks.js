// The crew's landmarks on the map and in the sheet: a hazard is a diamond, everything else stands in a small square.
"use strict";
(function () {
  const FACE = '"Source Sans Pro", sans-serif';
  const coarse = matchMedia("(pointer: coarse)").matches;
  const HIT_PX = coarse ? 24 : 14;
  // From far away a sign of every kind would hide the lake: what can hurt, and where one gets in.
  const FROM_AFAR = ["hazard", "ramp"];
  const SIDE = { far: 12, middle: 16, close: 20 };
  const LONGEST_NAME = 28;
  // A landmark is looked at with so much of its surroundings.
  const AROUND_DEG = 0.0015;

  lake.landmarkById = new Map(ATLAS.landmarks.map(function (mark) { return [mark.id, mark]; }));

  function shown(map) {
    const far = lake.distance(map) === "far", chosen = lake.chosen.landmark;
    return ATLAS.landmarks.filter(function (mark) { return !far || FROM_AFAR.includes(mark.kind) || mark.id === chosen; });
  }

  lake.landmarkNear = function (map, point) {
    let best = null, least = HIT_PX;
    for (const mark of shown(map)) {
      const away = map.latLngToContainerPoint([mark.at[1], mark.at[0]]).distanceTo(point);
      if (away < least) {
        least = away;
        best = mark;
      }
    }
    return best;
  };

  lake.kindWords = function (kind) {
    return lake.word("script-landmark-kind", { kind: kind });
  };

  lake.landmarkTitle = function (mark) {
    return mark.name || lake.kindWords(mark.kind);
  };

  lake.showLandmark = function (article, id) {
    const mark = lake.landmarkById.get(id);
    lake.showPanel(article, "landmark");
    lake.chosen.landmark = mark.id;
    lake.chosen.places = [[mark.at[1] - AROUND_DEG, mark.at[0] - AROUND_DEG], [mark.at[1] + AROUND_DEG, mark.at[0] + AROUND_DEG]];
    lake.markStrip(mark.reach);
    lake.tellMarking(article);
    lake.say(lake.kindWords(mark.kind) + (mark.name ? ": " + mark.name : "") + ". " + mark.words);
    return article.querySelector("h3");
  };

  // Signs ----------------------------------------------------------------------------------------------------------

  function diamond(ctx, x, y, r) {
    ctx.beginPath();
    ctx.moveTo(x, y - r);
    ctx.lineTo(x + r, y);
    ctx.lineTo(x, y + r);
    ctx.lineTo(x - r, y);
    ctx.closePath();
  }

  function hazard(ctx, x, y, r) {
    diamond(ctx, x, y, r * 1.25);
    ctx.fillStyle = lake.colour("hazard");
    ctx.strokeStyle = lake.colour("on-hazard");
    ctx.lineWidth = 2;
    ctx.fill();
    ctx.stroke();
    ctx.beginPath();
    for (const side of [1, -1]) {
      ctx.moveTo(x - r * 0.36, y - side * r * 0.36);
      ctx.lineTo(x + r * 0.36, y + side * r * 0.36);
    }
    ctx.lineWidth = 2.4;
    ctx.stroke();
  }

  const pictures = {
    ramp: function (ctx, x, y, r) {
      ctx.beginPath();
      ctx.moveTo(x - r * 0.6, y - r * 0.45);
      ctx.lineTo(x + r * 0.6, y + r * 0.5);
      ctx.lineTo(x - r * 0.6, y + r * 0.5);
      ctx.closePath();
      ctx.fill();
    },
    access: function (ctx, x, y, r) {
      const s = r * 0.4;
      ctx.beginPath();
      [[-1.5, -1.2], [-0.5, -1.2], [-0.5, 0], [0.5, 0], [0.5, 1.2], [1.5, 1.2]].forEach(function (p, i) {
        if (i) ctx.lineTo(x + p[0] * s, y + p[1] * s);
        else ctx.moveTo(x + p[0] * s, y + p[1] * s);
      });
      ctx.stroke();
    },
    parking: function (ctx, x, y, r) {
      ctx.font = "600 " + Math.round(r * 1.7) + "px " + FACE;
      ctx.textAlign = "center";
      ctx.textBaseline = "middle";
      ctx.fillText("P", x, y + 1);
    },
    place: function (ctx, x, y, r) {
      ctx.beginPath();
      ctx.arc(x, y, r * 0.4, 0, 2 * Math.PI);
      ctx.fill();
    },
    other: function (ctx, x, y, r) {
      ctx.beginPath();
      ctx.moveTo(x - r * 0.5, y);
      ctx.lineTo(x + r * 0.5, y);
      ctx.stroke();
    },
  };

  function sign(ctx, kind, x, y, r) {
    if (kind === "hazard") return hazard(ctx, x, y, r);
    ctx.fillStyle = lake.colour("paper");
    ctx.strokeStyle = lake.colour("deep");
    ctx.lineWidth = 1.6;
    ctx.fillRect(x - r, y - r, 2 * r, 2 * r);
    ctx.strokeRect(x - r, y - r, 2 * r, 2 * r);
    ctx.fillStyle = lake.colour("deep");
    pictures[kind](ctx, x, y, r);
  }

  lake.onInk(function (ctx, map, paper) {
    const distance = lake.distance(map), r = SIDE[distance] / 2;
    // Hazards come first in the data, and lie on top.
    const here = shown(map).filter(function (mark) { return paper.holds(mark.at); })
      .map(function (mark) { return { mark: mark, p: paper.at([mark.at[1], mark.at[0]]) }; });
    for (const one of here.slice().reverse()) {
      sign(ctx, one.mark.kind, one.p.x, one.p.y, r);
      paper.keep(one.p.x, one.p.y, 2.4 * r, 2.4 * r);
      if (one.mark.id === lake.chosen.landmark) ring(ctx, one.p, r);
    }
    if (distance !== "close") return;
    ctx.font = "600 14px " + FACE;
    ctx.textAlign = "left";
    ctx.textBaseline = "middle";
    for (const one of here) name(ctx, one, r, paper);
  });

  function ring(ctx, p, r) {
    ctx.beginPath();
    ctx.arc(p.x, p.y, r * 1.9, 0, 2 * Math.PI);
    ctx.strokeStyle = lake.colour("ink");
    ctx.lineWidth = 2.5;
    ctx.stroke();
  }

  // A name as the map has room for it.
  lake.mapName = function (text) {
    return text.length > LONGEST_NAME ? text.slice(0, LONGEST_NAME - 1).trimEnd() + "…" : text;
  };

  function name(ctx, one, r, paper) {
    if (!one.mark.name) return;
    const text = lake.mapName(one.mark.name), width = ctx.measureText(text).width, gap = r * 1.3 + 5;
    for (const x of [one.p.x + gap, one.p.x - gap - width]) {
      if (!paper.free(x + width / 2, one.p.y, width, 16)) continue;
      paper.write(text, x, one.p.y, "ink");
      paper.keep(x + width / 2, one.p.y, width + 6, 18);
      return;
    }
  }
})();
