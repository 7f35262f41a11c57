// Packs of map tiles: squares of 256 pixels (or 512) of a world map, which double in number
// each way from one zoom to the next. The reader is fetched when the first one is opened.
import type { PMTiles } from "../vendor/pmtiles.js";
import type { Lie } from "./lay";
import type { Opened } from "./open";
import { says } from "./language";

// Half the equator's length on the plane of Web Mercator, metres: π times the semi-major
// axis of WGS 84 (EPSG:3857).
const half = Math.PI * 6378137;

/** Whether a file begins as a PMTiles archive does (specification, version 3, section 3). */
export const isPMTiles = async (file: Blob): Promise<boolean> => (await file.slice(0, 7).text()) === "PMTiles";

/** Where a place lies on the world map of a zoom, in tiles from its upper left corner. */
function tileAt(lon: number, lat: number, zoom: number): [number, number] {
  const n = 2 ** zoom;
  const y = Math.asinh(Math.tan((lat * Math.PI) / 180)) / Math.PI;
  return [((lon + 180) / 360) * n, ((1 - y) / 2) * n];
}

/** Opens a PMTiles archive of pictures. The error says what would be right. */
export async function openPMTiles(file: File, name: string): Promise<Opened> {
  let pack: PMTiles;
  let side: number;
  let bounds: [number, number, number, number]; // tiles of the finest zoom: left, top, right, bottom
  let [coarse, fine] = [0, 0];
  try {
    const lib = await import("../vendor/pmtiles.js");
    pack = new lib.PMTiles(new lib.FileSource(file));
    const h = await pack.getHeader();
    if (h.tileType === lib.TileType.Mvt || h.tileType === lib.TileType.Mlt) throw new Error(says.vectors);
    [coarse, fine] = [h.minZoom, h.maxZoom];
    const [left, top] = tileAt(h.minLon, h.maxLat, fine);
    const [right, bottom] = tileAt(h.maxLon, h.minLat, fine);
    bounds = [left, top, right, bottom];
    const first = await tile(pack, fine, Math.floor((left + right) / 2), Math.floor((top + bottom) / 2));
    side = first?.width ?? 256;
    first?.close();
  } catch (e) {
    throw new Error(says.noTiles(name, (e as Error).message));
  }
  const [left, top, right, bottom] = bounds.map((v) => Math.round(v * side)); // pixels of the finest zoom
  const pixel = (2 * half) / (2 ** fine * side);
  const lie: Lie = [pixel, 0, left * pixel - half, 0, -pixel, half - top * pixel, 0, 0, 1];
  return {
    name,
    size: [right - left, bottom - top],
    world: { name, lie, crs: "EPSG:3857" },
    async draw(pen, w) {
      const { width, height } = pen.canvas;
      // The coarsest zoom that is as fine as what is drawn.
      const zoom = Math.min(fine, Math.max(coarse, fine - Math.floor(Math.log2(Math.max(1, w.width / width)))));
      const k = 2 ** (zoom - fine) / side; // tiles of that zoom in a pixel
      const [x0, y0] = [(left + w.left) * k, (top + w.top) * k];
      const [sx, sy] = [width / (w.width * k), height / (w.height * k)]; // pixels of the canvas in a tile
      for (let y = Math.floor(y0); y < y0 + w.height * k; y++) {
        for (let x = Math.floor(x0); x < x0 + w.width * k; x++) {
          const t = await tile(pack, zoom, x, y);
          if (!t) continue;
          // To whole pixels, so that no seam is left between two.
          const [l, u, r, b] = [(x - x0) * sx, (y - y0) * sy, (x + 1 - x0) * sx, (y + 1 - y0) * sy].map(Math.round);
          pen.drawImage(t, l, u, r - l, b - u);
          t.close();
        }
      }
    },
  };
}

/** A tile as a picture; nothing where the pack has none. */
async function tile(pack: PMTiles, zoom: number, x: number, y: number): Promise<ImageBitmap | undefined> {
  const got = await pack.getZxy(zoom, x, y);
  return got && createImageBitmap(new Blob([got.data]));
}
