// The loupe: what lies under the finger, larger.

import { useEffect, useRef } from "preact/hooks";
import type { Vec } from "./geometry";
import type { Picture } from "./board";
import type { Snapped } from "./snap";

const across = 148; // pixels

export function Loupe({ picture, at, k, to, lines, left }: {
  picture: Picture; at: Vec; k: number; to: Snapped["to"]; lines: readonly (readonly Vec[])[]; left: boolean;
}) {
  const glass = useRef<HTMLCanvasElement>(null);
  useEffect(() => {
    const c = glass.current!;
    const dpr = Math.min(window.devicePixelRatio || 1, 2);
    c.width = c.height = across * dpr;
    const pen = c.getContext("2d")!;
    pen.setTransform(dpr, 0, 0, dpr, 0, 0);
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, across, across);
    const half = across / 2;
    const on = (p: Vec): Vec => [half + (p[0] - at[0]) * k, half - (p[1] - at[1]) * k];
    const { canvas, at: corner, per } = picture;
    const [x, y] = on([corner[0], corner[1] + canvas.height * per]);
    pen.drawImage(canvas, x, y, canvas.width * per * k, canvas.height * per * k);
    pen.strokeStyle = "#00337a";
    pen.lineWidth = 2;
    for (const line of lines) {
      pen.beginPath();
      line.forEach((p, i) => (i ? pen.lineTo(...on(p)) : pen.moveTo(...on(p))));
      pen.stroke();
    }
    for (const [colour, width] of [["#fff", 4], ["#a00000", 2]] as const) {
      pen.strokeStyle = colour;
      pen.lineWidth = width;
      pen.beginPath();
      for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
        pen.moveTo(half + dx * 5, half + dy * 5);
        pen.lineTo(half + dx * half, half + dy * half);
      }
      if (to !== "free") pen.rect(half - 9, half - 9, 18, 18);
      pen.stroke();
    }
  }, [picture, at, k, to, lines]);
  return <canvas ref={glass} class={left ? "trace-loupe" : "trace-loupe trace-right"} aria-hidden="true" />;
}
