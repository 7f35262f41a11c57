// Opens a picture and makes it small enough to be kept: for a phone's memory, and to be
// sent from a field.
import { isTIFF, openGeoTIFF } from "./geotiff";
import type { Lie, Vec } from "./lay";
import { isPMTiles, openPMTiles } from "./tiles";
import type { Window } from "./window";
import { says } from "./language";

// The longer side of what is kept, pixels: 3 cm each on a lot of 70 m. Decoded it takes
// 23 MB at most.
const longest = 2400;

// Pixels of the largest picture that is opened. The browser decodes all of them once.
const most = 120e6;

/** An opened picture. */
export interface Opened {
  name: string;
  /** Pixels of the file. */
  size: Vec;
  /** Where it lies, if that is known: from its pixels to coordinates of a system, whose EPSG code may be empty. */
  world?: { name: string; lie: Lie; crs: string };
  /** Draws a window of it into all of a canvas. */
  draw: (pen: CanvasRenderingContext2D, window: Window) => Promise<void>;
}

/** Whether a file is an SQLite database, as MBTiles and GeoPackages are (its file format, section 1.3.1). */
const isSQLite = async (file: Blob) => (await file.slice(0, 15).text()) === "SQLite format 3";

/** Opens a file. The error says what would be right. */
export async function open(file: Blob, name: string): Promise<Opened> {
  if (await isTIFF(file)) return openGeoTIFF(file, name);
  if (await isPMTiles(file)) return openPMTiles(new File([file], name), name);
  if (await isSQLite(file)) throw new Error(says.mbtiles(name));
  const url = URL.createObjectURL(file);
  // An image element, since a browser may decode that no larger than it is drawn.
  const image = new Image();
  try {
    await new Promise((done, fail) => {
      image.onload = done;
      image.onerror = fail;
      image.src = url;
    });
  } catch {
    throw new Error(says.noPicture(name));
  } finally {
    URL.revokeObjectURL(url); // the element has its bytes
  }
  const size: Vec = [image.naturalWidth, image.naturalHeight];
  if (!size[0] || !size[1]) throw new Error(says.noPicture(name));
  if (size[0] * size[1] > most) throw new Error(says.tooLarge(name, (size[0] * size[1] * 1e-6).toFixed(0), (most * 1e-6).toFixed(0)));
  const draw: Opened["draw"] = async (pen, w) => pen.drawImage(image, w.left, w.top, w.width, w.height, 0, 0, pen.canvas.width, pen.canvas.height);
  return { name, size, draw };
}

/** What is kept of a picture. */
export interface Small {
  canvas: HTMLCanvasElement;
  window: Window;
}

/** Draws a window of a picture as it is kept. */
export async function small(p: Opened, window: Window = { left: 0, top: 0, width: p.size[0], height: p.size[1] }): Promise<Small> {
  const k = Math.min(1, longest / Math.max(window.width, window.height));
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [Math.max(1, Math.round(window.width * k)), Math.max(1, Math.round(window.height * k))];
  const pen = canvas.getContext("2d")!;
  pen.imageSmoothingQuality = "high";
  await p.draw(pen, window);
  // A browser that cannot decode it draws nothing, and does not say so.
  const [w, h] = [canvas.width, canvas.height];
  const sample = (x: number, y: number) => pen.getImageData(Math.floor(x * (w - 1)), Math.floor(y * (h - 1)), 1, 1).data[3] > 0;
  if (![0, 0.25, 0.5, 0.75, 1].some((x) => [0, 0.25, 0.5, 0.75, 1].some((y) => sample(x, y)))) throw new Error(says.notDrawn(p.name));
  pen.globalCompositeOperation = "destination-over"; // white where it is transparent
  pen.fillStyle = "#ffffff";
  pen.fillRect(0, 0, w, h);
  return { canvas, window };
}

/** A canvas as the file that is kept: a JPEG, which has none of what a camera notes. */
export const asFile = (canvas: HTMLCanvasElement): Promise<Blob> =>
  new Promise((done, fail) => canvas.toBlob((b) => (b ? done(b) : fail(new Error(says.notDrawn("")))), "image/jpeg", 0.85));

/** The name of the kept file: that of the picture, in letters that every file system takes, and a piece of its hash. */
export const fileName = (name: string, sha256: string): string => {
  const stem = name.replace(/\.\w+$/, "").replace(/[^A-Za-z0-9]+/g, "-").replace(/^-|-$/g, "").slice(0, 40).toLowerCase();
  return `picture-${stem && `${stem}-`}${sha256.slice(0, 8)}.jpg`;
};
