// The names on the map as a layer over it: words that are measured, placed by
// labels.ts and written as SVG.
import { Layer, type Feature, type Geometry, type VectorSource, LineString, Point, Polygon } from "../vendor/ol.js";
import type { Name } from "./draw";
import { colours, reach } from "./ink";
import { place, type Box, type Pixel, type Wish } from "./labels";

const svg = "http://www.w3.org/2000/svg";
const size = 15; // pixels, at the usual size of text

/** A name that stands on the map: where its thing is, and the words off it. */
interface Standing {
  words: SVGTextElement;
  leader: SVGLineElement | null;
  at: number[]; // on the ground
  off: Pixel;
}

function put<E extends SVGElement>(e: E, attributes: Record<string, string | number>): E {
  for (const [name, value] of Object.entries(attributes)) e.setAttribute(name, String(value));
  return e;
}

let pen: CanvasRenderingContext2D | null = null;

function widthOf(text: string, font: number): number {
  pen ??= document.createElement("canvas").getContext("2d")!;
  pen.font = `600 ${font}px system-ui, sans-serif`;
  return pen.measureText(text).width;
}

/** The vertices of what is named. */
function pathOf(g: Geometry | undefined): number[][] {
  if (g instanceof Point) return [g.getCoordinates()];
  if (g instanceof LineString) return g.getCoordinates();
  return g instanceof Polygon ? g.getCoordinates()[0] : [];
}

/** A layer of the names of all features; keys are rectangles that it keeps off. */
export function namesOf(sources: VectorSource<Feature<Geometry>>[], keys: () => Box[]): Layer {
  const drawn = document.createElementNS(svg, "svg");
  drawn.setAttribute("class", "names");
  drawn.setAttribute("aria-hidden", "true");
  let standing: Standing[] = [];
  return new Layer({
    render: (frame) => {
      const [a, b, c, d, e, f] = frame!.coordinateToPixelTransform;
      const pixel = ([x, y]: number[]): Pixel => [a * x + c * y + e, b * x + d * y + f];
      // While the map moves each name keeps to its thing.
      if (!frame!.viewHints.some((n) => n > 0)) standing = stand(drawn, sources, pixel, frame!.viewState.resolution, frame!.size as Pixel, keys());
      for (const { words, leader, at, off } of standing) {
        const [x, y] = pixel(at);
        put(words, { x: x + off[0], y: y + off[1] });
        // From the edge of the sign, a standing square.
        const k = reach.next / (Math.abs(off[0]) + Math.abs(off[1]));
        if (leader) put(leader, { x1: x + k * off[0], y1: y + k * off[1], x2: x + off[0], y2: y + off[1] });
      }
      return drawn as unknown as HTMLElement;
    },
  });
}

/** What the name under a pixel of the map means. */
export function namedAt(target: HTMLElement, [x, y]: number[]): string {
  const over = [...target.querySelectorAll<SVGTextElement>(".names text")].find((e) => {
    const r = e.getBBox();
    return x >= r.x && x <= r.x + r.width && y >= r.y && y <= r.y + r.height;
  });
  return over?.dataset.pick ?? "";
}

/** Places the names anew and returns those that stand. */
function stand(drawn: SVGSVGElement, sources: VectorSource<Feature<Geometry>>[], pixel: (at: number[]) => Pixel, resolution: number, [width, height]: Pixel, keys: Box[]): Standing[] {
  // Words grow with the text of the page.
  const font = (size / 16) * parseFloat(getComputedStyle(document.documentElement).fontSize);
  const named: { n: Name; pick: string; path: number[][] }[] = [];
  for (const s of sources) {
    for (const g of s.getFeatures()) {
      const n: Name | undefined = g.get("name");
      const path = pathOf(g.getGeometry());
      if (n && path.length && (n.shown?.(resolution) ?? true)) named.push({ n, pick: g.get("pick") ?? "", path });
    }
  }
  const wishes = named.map(({ n, path }): Wish => ({
    kind: n.kind, rank: n.rank, width: widthOf(n.text, font) + 2, height: 1.2 * font, path: path.map(pixel), radius: n.radius ?? 0, area: n.area,
  }));
  const out: Standing[] = [];
  const [x, y] = pixel([0, 0]), [u, v] = pixel([1, 0]), [s, t] = pixel([0, 1]);
  const det = (u - x) * (t - y) - (s - x) * (v - y);
  place(wishes, [2, 2, width - 2, height - 2], keys).forEach((p, i) => {
    if (!p) return;
    const { n, pick } = named[i];
    const words = put(document.createElementNS(svg, "text"), { "font-size": font, fill: n.colour ?? colours.ink, "data-pick": pick });
    words.textContent = n.text;
    const leader = p.leader ? put(document.createElementNS(svg, "line"), { stroke: n.colour ?? colours.ink, "stroke-width": 2 }) : null;
    // The place on the ground, by the inverse of the map.
    const [dx, dy] = [p.beside[0] - x, p.beside[1] - y];
    const at = [((t - y) * dx - (s - x) * dy) / det, ((u - x) * dy - (v - y) * dx) / det];
    out.push({ words, leader, at, off: [p.at[0] - p.beside[0], p.at[1] - p.beside[1]] });
  });
  drawn.replaceChildren(...out.flatMap((o) => o.leader ?? []), ...out.map((o) => o.words));
  return out;
}
