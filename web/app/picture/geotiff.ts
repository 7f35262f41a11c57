// GeoTIFFs: pictures that say themselves where they lie. The reader is large, so it is
// fetched when the first one is opened.
import type { Image } from "../vendor/geotiff.js";
import type { Lie, Vec } from "./lay";
import type { Opened } from "./open";
import { says } from "./language";

// Pixels that are decoded at a time.
const band = 4e6;

/** Whether a file begins as a TIFF does, or as a BigTIFF. */
export async function isTIFF(file: Blob): Promise<boolean> {
  const [a, b, c, d] = new Uint8Array(await file.slice(0, 4).arrayBuffer());
  return (a === 0x49 && b === 0x49 && (c === 42 || c === 43) && d === 0) || (a === 0x4d && b === 0x4d && c === 0 && (d === 42 || d === 43));
}

/**
 * From pixels, from the upper left corner of the picture, to the coordinates of its
 * system; nothing where the file does not say, or only by control points. Source: OGC
 * GeoTIFF 1.1, 7.1.1 (raster space: a tie point of PixelIsPoint is the middle of a pixel)
 * and annex B.6 (the transformation).
 */
export function lieOf(value: (tag: string) => ArrayLike<number> | undefined, keys: Record<string, number | string> | null): Lie | undefined {
  const scale = value("ModelPixelScale");
  const tie = value("ModelTiepoint");
  const m = value("ModelTransformation");
  const half = keys?.GTRasterTypeGeoKey === 2 ? 0.5 : 0;
  const about = (a: number, b: number, c: number, d: number, e: number, f: number): Lie => [a, b, c - half * (a + b), d, e, f - half * (d + e), 0, 0, 1];
  if (scale && scale[0] > 0 && scale[1] > 0 && tie?.length === 6) return about(scale[0], 0, tie[3] - tie[0] * scale[0], 0, -scale[1], tie[4] + tie[1] * scale[1]);
  if (m?.length === 16) return about(m[0], m[1], m[3], m[4], m[5], m[7]);
}

/** The EPSG code of the system; empty where it has none. */
export function codeOf(keys: Record<string, number | string> | null): string {
  // 32767 says that the system is described in the file alone.
  const code = [keys?.ProjectedCSTypeGeoKey, keys?.GeographicTypeGeoKey].find((c) => typeof c === "number" && c > 0);
  return typeof code === "number" && code !== 32767 ? `EPSG:${code}` : "";
}

/** Opens a GeoTIFF. The error says what would be right. */
export async function openGeoTIFF(file: Blob, name: string): Promise<Opened> {
  let full: Image;
  const smaller: Image[] = []; // the picture at lower resolutions
  try {
    const { fromBlob } = await import("../vendor/geotiff.js");
    const tiff = await fromBlob(file);
    full = await tiff.getImage(0);
    const count = await tiff.getImageCount();
    for (let i = 1; i < count; i++) {
      const next = await tiff.getImage(i);
      if (next.fileDirectory.getValue("NewSubfileType") === 1) smaller.push(next);
    }
  } catch (e) {
    throw new Error(says.noTIFF(name, (e as Error).message));
  }
  if (full.getSampleFormat() > 1 || ![1, 8, 16].includes(full.getBitsPerSample())) throw new Error(says.noColours(name));
  const size: Vec = [full.getWidth(), full.getHeight()];
  const keys = full.getGeoKeys();
  const value = (tag: string) => full.fileDirectory.getValue(tag) as ArrayLike<number> | undefined;
  const lie = lieOf(value, keys);
  const all = [full, ...smaller].sort((a, b) => a.getWidth() - b.getWidth());
  return {
    name,
    size,
    world: lie && { name, lie, crs: codeOf(keys) },
    async draw(pen, w) {
      const { width, height } = pen.canvas;
      // The coarsest that is as fine as what is drawn.
      const image = all.find((i) => (i.getWidth() / size[0]) * w.width >= width) ?? full;
      const [kx, ky] = [image.getWidth() / size[0], image.getHeight() / size[1]];
      const [left, right] = [Math.floor(w.left * kx), Math.min(image.getWidth(), Math.ceil((w.left + w.width) * kx))];
      const rows = Math.max(1, Math.floor(band / (right - left)));
      const per = Math.max(1, Math.floor((rows * height) / (w.height * ky))); // rows of the canvas
      for (let y = 0; y < height; y += per) {
        const end = Math.min(height, y + per);
        const [from, to] = [y, end].map((v) => (w.top + (v / height) * w.height) * ky);
        const [top, bottom] = [Math.floor(from), Math.min(image.getHeight(), Math.ceil(to))];
        const part = await pixels(image, [left, top, right, bottom], name);
        pen.drawImage(part, w.left * kx - left, from - top, w.width * kx, to - from, 0, y, width, end - y);
      }
    },
  };
}

/** A window of a picture as a canvas. */
async function pixels(image: Image, window: number[], name: string): Promise<HTMLCanvasElement> {
  let read;
  try {
    read = await image.readRGB({ window, interleave: true, enableAlpha: true });
  } catch (e) {
    throw new Error(says.noTIFF(name, (e as Error).message));
  }
  const [w, h] = [window[2] - window[0], window[3] - window[1]];
  const canvas = Object.assign(document.createElement("canvas"), { width: w, height: h });
  const pen = canvas.getContext("2d")!;
  const made = pen.createImageData(w, h);
  const each = read.length / (w * h);
  const k = read instanceof Uint16Array ? 255 / 65535 : 1;
  for (let i = 0, o = 0; i < read.length; i += each, o += 4) {
    for (let c = 0; c < 3; c++) made.data[o + c] = read[i + c] * k;
    made.data[o + 3] = each === 4 ? read[i + 3] * k : 255;
  }
  pen.putImageData(made, 0, 0);
  return canvas;
}
