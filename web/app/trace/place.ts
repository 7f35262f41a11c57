// What a touch does with the current tool.

import { type Vec, dist, sub, times } from "./geometry";
import { words } from "./language";
import { bearingUp } from "./plane";
import type { Shared } from "./state";
import { addPart, find, header, repeat, vertices } from "./sketch";
import type { Around } from "./snap";
import { pieces } from "./sketch";

/** place takes the next place of the current tool. */
export function place(c: Shared, at: Vec) {
  const t = c.tool;
  switch (t.what) {
    case "part": {
      if (t.form === "Point") return finish(c, [at]);
      const last = c.draft[c.draft.length - 1];
      const again = last && dist(last, at) === 0;
      const closes = t.form === "Polygon" && c.draft.length > 2 && dist(c.draft[0], at) === 0;
      if (again || closes) return finish(c, c.draft);
      const draft = [...c.draft, at];
      // A lateral is straight until it is bent: two places make it.
      if (t.kind === "lateral" && draft.length === 2) return finish(c, draft);
      return c.setDraft(draft);
    }
    case "scale": {
      const draft = c.draft.length === 1 && dist(c.draft[0], at) > 0 ? [c.draft[0], at] : [at];
      c.setDraft(draft);
      if (draft.length === 2) c.say(words.draw.twoPlaces);
      return;
    }
    case "north": {
      if (c.draft.length === 0) return c.setDraft([at]);
      const bearing = bearingUp(c.draft[0], at);
      c.setDraft([]);
      if (bearing === undefined) return;
      c.set(header(c.sketch, { up: { bearing, sigma: c.sketch.sketch.up?.sigma ?? 10 } }));
      c.use({ what: "move" });
      return c.say(words.draw.northSet(bearing));
    }
    case "repeat": {
      const f = find(c.sketch, t.id);
      if (!f) return;
      const start = c.plane.view(vertices(f)[0]);
      return again(c, times(sub(at, start), 1 / t.copies));
    }
  }
}

/** again repeats the current line by a step of the screen's plane. */
export function again(c: Shared, step: Vec) {
  if (c.tool.what !== "repeat" || dist(step, [0, 0]) === 0) return;
  const f = find(c.sketch, c.tool.id);
  if (!f) return;
  const o = c.plane.file(c.plane.view(vertices(f)[0]));
  const to = c.plane.file([c.plane.view(vertices(f)[0])[0] + step[0], c.plane.view(vertices(f)[0])[1] + step[1]]);
  const tidy = c.sketch.sketch.plane === "wgs84" ? (v: Vec) => v : c.plane.file;
  const [next, made] = repeat(c.sketch, c.tool.id, c.tool.copies, sub(to, o), tidy);
  c.set(next);
  c.use({ what: "move" });
  c.select(made[made.length - 1]);
  c.say(words.draw.drawnAgain(made.join(", ")));
}

/** finish makes a part of the places that are drawn, if they are enough for one. */
export function finish(c: Shared, draft: Vec[]) {
  const t = c.tool;
  if (t.what !== "part") return;
  const least = { Point: 1, LineString: 2, Polygon: 3 }[t.form];
  if (draft.length < least) {
    return c.say(words.draw.needs(words.kinds[t.kind], least, least - draft.length));
  }
  const [next, id] = addPart(c.sketch, t.kind, t.form, draft.map(c.plane.file));
  c.set(next);
  c.setDraft([]);
  c.select(id);
  c.say(words.draw.drawn(words.kinds[t.kind], id));
}

/** around returns what a place may snap to; a corner that is moved does not snap to itself. */
export function around(c: Shared, reach: number, moved?: { id: string; index: number }): Around {
  const places: Vec[] = [];
  const sides: (readonly [Vec, Vec])[] = [];
  let from: Vec | undefined;
  for (const f of c.sketch.features) {
    const own = f.id === moved?.id;
    for (const q of pieces(f)) {
      const v = q.at.map(c.plane.view);
      const n = v.length;
      places.push(...(own ? v.filter((_, i) => i !== moved!.index) : v));
      for (let i = 0; i + 1 < n + (q.form === "Polygon" ? 1 : 0); i++) {
        if (own && (i === moved!.index || (i + 1) % n === moved!.index)) continue;
        sides.push([v[i], v[(i + 1) % n]]);
      }
      if (own && q.form !== "Point") from = v[moved!.index === 0 ? (q.form === "Polygon" ? n - 1 : 1) : moved!.index - 1];
    }
  }
  if (moved) return { places, sides, from, reach };
  const d = c.draft;
  const drawing = c.tool.what === "part";
  places.push(...d);
  if (drawing) for (let i = 1; i < d.length; i++) sides.push([d[i - 1], d[i]]);
  return {
    places, sides, reach,
    from: drawing ? d[d.length - 1] : undefined,
    first: drawing && c.tool.what === "part" && c.tool.form === "Polygon" && d.length > 1 ? d[0] : undefined,
  };
}
