// The scan: a photo, picture or PDF page, turned upright and squared up.

import { type Vec, dist } from "./geometry";
import { aspect } from "./homography";
import { words } from "./language";
import { turned, warp } from "./warp";
import { page } from "./pdf";

/** Scan is an opened picture. */
export interface Scan {
  blob: Blob;
  canvas: HTMLCanvasElement; // upright as the file says, not yet turned by hand
  page: number;
  pages: number;
  inches?: Vec; // size of a PDF page
}

// The longer side of what is drawn on and under. Letters of 2 mm on a sheet
// remain readable, and a phone has memory for the picture twice.
const longest = 2400;

/** open reads a picture or a page of a PDF. The error says what would be right. */
export async function open(blob: Blob, number = 1): Promise<Scan> {
  const head = new Uint8Array(await blob.slice(0, 5).arrayBuffer());
  if (String.fromCharCode(...head) === "%PDF-") {
    try {
      const p = await page(blob, number, longest);
      return { blob, canvas: p.canvas, page: number, pages: p.pages, inches: p.inches };
    } catch (e) {
      throw new Error(words.sheet.noPDF(e instanceof Error ? e.message : String(e)));
    }
  }
  let bitmap: ImageBitmap;
  try {
    bitmap = await createImageBitmap(blob);
  } catch {
    throw new Error(words.sheet.noPicture);
  }
  const k = Math.min(1, longest / Math.max(bitmap.width, bitmap.height));
  const canvas = sheet(Math.round(bitmap.width * k), Math.round(bitmap.height * k));
  const pen = canvas.getContext("2d")!;
  pen.imageSmoothingQuality = "high";
  pen.drawImage(bitmap, 0, 0, canvas.width, canvas.height);
  bitmap.close();
  return { blob, canvas, page: 1, pages: 1 };
}

function sheet(width: number, height: number): HTMLCanvasElement {
  const c = document.createElement("canvas");
  c.width = Math.max(2, width);
  c.height = Math.max(2, height);
  return c;
}

/** turn returns the picture turned clockwise by quarters. */
export function turn(from: HTMLCanvasElement, quarters: number): HTMLCanvasElement {
  const q = ((quarters % 4) + 4) % 4;
  if (q === 0) return from;
  const [w, h] = turned([from.width, from.height], q);
  const to = sheet(w, h);
  const pen = to.getContext("2d")!;
  pen.translate(w / 2, h / 2);
  pen.rotate((q * Math.PI) / 2);
  pen.drawImage(from, -from.width / 2, -from.height / 2);
  return to;
}

/**
 * squareUp returns the sheet with the given corners (fractions of the picture;
 * top left, top right, bottom right, bottom left) as seen from above; nothing
 * where they make no sheet. size is the sheet's in any unit, where it is known.
 */
export function squareUp(from: HTMLCanvasElement, corners: readonly Vec[], size?: Vec): HTMLCanvasElement | undefined {
  const c = corners.map(([x, y]): Vec => [x * from.width, y * from.height]);
  const ratio = size ? size[0] / size[1] : aspect(c, from.width, from.height);
  if (!(ratio > 0.1 && ratio < 10)) return undefined;
  // As fine as the picture shows its nearest side, and no finer.
  const w = Math.max(dist(c[0], c[1]), dist(c[3], c[2]), ratio * Math.max(dist(c[0], c[3]), dist(c[1], c[2])));
  const k = Math.min(1, longest / Math.max(w, w / ratio));
  const to = sheet(Math.round(w * k), Math.round((w * k) / ratio));
  const read = from.getContext("2d", { willReadFrequently: true })!.getImageData(0, 0, from.width, from.height);
  const pen = to.getContext("2d")!;
  const made = pen.createImageData(to.width, to.height);
  if (!warp(read, c, made)) return undefined;
  pen.putImageData(made, 0, 0);
  return to;
}

/** lay lays a paper size the way the sheet lies in the picture. */
export function lay(paper: { width: number; height: number }, ratio: number): Vec {
  const wide = ratio > 1;
  return wide ? [paper.height, paper.width] : [paper.width, paper.height];
}

const endings: Record<string, string> = {
  "application/pdf": "pdf", "image/jpeg": "jpg", "image/png": "png", "image/webp": "webp", "image/gif": "gif", "image/avif": "avif", "image/bmp": "bmp",
};

/** nameOf returns the file name that a scan gets in the job's folder. */
export const nameOf = (b: Blob): string => `scan.${endings[b.type] ?? "jpg"}`;
