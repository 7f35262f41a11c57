// The tracing screen by itself, for tests: the saved sketch is passed to the
// page.

import { render } from "preact";
import type { Check, CheckRequest } from "../source/answer";
import { Trace } from "./trace";

declare global {
  interface Window {
    start: (sketch: object | null, unit: "ft" | "m", scan: string) => Promise<void>;
    saved?: { sketch: object; scan: { name: string; type: string; size: number } | null };
    left?: boolean;
  }
}

const stage = async (name: "check", request: CheckRequest): Promise<Check> => {
  const r = await fetch(`/stage/${name}`, { method: "POST", body: JSON.stringify(request) });
  return (await r.json()) as Check;
};

window.start = async (sketch, unit, scan) => {
  const blob = scan ? await (await fetch(scan)).blob() : null;
  const root = document.getElementById("app")!;
  render(null, root);
  window.saved = undefined;
  render(<Trace sketch={sketch} unit={unit} scan={blob} stage={stage} leave={() => { window.left = true; }}
    drawer={{ found: null, put: async () => {}, empty: async () => {}, note: { read: () => null, write: () => {} } }}
    save={async (s, f) => { window.saved = { sketch: s, scan: f && { name: f.name, type: f.type, size: f.blob.size } }; }} />, root);
};
void window.start(null, "ft", "");
