// A picture as a layer of the map: an image that the browser itself moves, turns and
// tilts, so that nothing is computed pixel by pixel.
import { Layer } from "../vendor/ol.js";
import type { Lie } from "./lay";

export interface PictureLayer {
  layer: Layer;
  lay: (lie: Lie, strength: number) => void;
}

export function pictureLayer(url: string): PictureLayer {
  const frame = document.createElement("div");
  frame.className = "underpicture";
  const image = frame.appendChild(new Image());
  image.alt = "";
  image.src = url;
  let lie: Lie | null = null;
  const layer = new Layer({
    render: (state) => {
      if (lie) {
        const [a, b, c, d, e, f] = state!.coordinateToPixelTransform;
        const m = [0, 1, 2].map((i) => [a * lie![i] + c * lie![3 + i] + e * lie![6 + i], b * lie![i] + d * lie![3 + i] + f * lie![6 + i], lie![6 + i]]);
        const [x, y, o] = m;
        image.style.transform = `matrix3d(${[x[0], x[1], 0, x[2], y[0], y[1], 0, y[2], 0, 0, 1, 0, o[0], o[1], 0, o[2]].join()})`;
      }
      return frame;
    },
  });
  return {
    layer,
    lay: (l, strength) => {
      lie = l;
      image.style.opacity = String(strength);
      layer.changed();
    },
  };
}
