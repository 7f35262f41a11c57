// Squaring up: a photo of a sheet becomes the sheet as seen from straight above.

import { type Homography, homography } from "./homography";
import type { Vec } from "./geometry";

/** Pixels are bytes red, green, blue, alpha by rows, as ImageData has them. */
export interface Pixels {
  data: Uint8ClampedArray;
  width: number;
  height: number;
}

/**
 * warp fills to from the quadrilateral of from whose corners are top left, top
 * right, bottom right, bottom left of the sheet, in pixels of from, between
 * neighbouring pixels in proportion. It returns false where the corners make
 * no sheet.
 */
export function warp(from: Pixels, corners: readonly Vec[], to: Pixels): boolean {
  const { width, height } = to;
  const h = homography([[0, 0], [width, 0], [width, height], [0, height]], corners);
  if (!h) return false;
  for (let y = 0; y < height; y++) row(from, to, h, y);
  return true;
}

function row(from: Pixels, to: Pixels, h: Homography, y: number) {
  const { data, width, height } = from;
  const out = to.data;
  // The middle of a pixel is half a pixel from its corner, in both pictures.
  let u = h[0] * 0.5 + h[1] * (y + 0.5) + h[2];
  let v = h[3] * 0.5 + h[4] * (y + 0.5) + h[5];
  let w = h[6] * 0.5 + h[7] * (y + 0.5) + h[8];
  let o = y * to.width * 4;
  for (let x = 0; x < to.width; x++, o += 4, u += h[0], v += h[3], w += h[6]) {
    const px = Math.min(Math.max(u / w - 0.5, 0), width - 1);
    const py = Math.min(Math.max(v / w - 0.5, 0), height - 1);
    const ix = Math.min(px | 0, width - 2);
    const iy = Math.min(py | 0, height - 2);
    const fx = px - ix;
    const fy = py - iy;
    const i = (iy * width + ix) * 4;
    const j = i + width * 4;
    for (let c = 0; c < 3; c++) {
      const top = data[i + c] + (data[i + 4 + c] - data[i + c]) * fx;
      const low = data[j + c] + (data[j + 4 + c] - data[j + c]) * fx;
      out[o + c] = top + (low - top) * fy;
    }
    out[o + 3] = 255;
  }
}

/** turned returns the size of a picture after quarter turns. */
export function turned(size: Vec, quarters: number): Vec {
  return quarters % 2 ? [size[1], size[0]] : size;
}
