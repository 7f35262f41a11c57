// What is typed into a field is no part of the drawing until the field is left.
// The drawing is kept in a database, which a page that is about to go may not
// wait for: the figure is written down with every key, at once.

import { useEffect, useRef } from "preact/hooks";

/** Note is where the device keeps what is being typed on the drawing board of a job. */
export interface Note {
  read: () => string | null;
  write: (text: string | null) => void; // null throws it away; does nothing where the device has no space
}

type Field = HTMLInputElement | HTMLTextAreaElement;

const isField = (e: unknown): e is Field => e instanceof HTMLTextAreaElement || (e instanceof HTMLInputElement && e.type === "text");
const label = (f: Field) => f.labels?.[0]?.textContent ?? "";

/** typing reports whether something is being typed at this moment. */
export const typing = () => isField(document.activeElement);

/**
 * useTyped writes down what is typed into a field within root. With again, what
 * was written down before is put back into its field, with the cursor in it,
 * when the field is on the screen.
 */
export function useTyped(root: { current: HTMLElement | null }, note: Note, again: boolean) {
  const left = useRef<[string, string] | null>(null);
  useEffect(() => {
    if (again) left.current = JSON.parse(note.read() ?? "null");
    const hear = (e: Event) => isField(e.target) && note.write(JSON.stringify([label(e.target), e.target.value]));
    const el = root.current!;
    el.addEventListener("input", hear, true);
    return () => el.removeEventListener("input", hear, true);
  }, []);
  useEffect(() => {
    if (!left.current) return;
    const [name, text] = left.current;
    const f = [...root.current!.querySelectorAll("input, textarea")].filter(isField).find((g) => label(g) === name);
    if (!f) return;
    left.current = null;
    if (f.value === text) return;
    f.focus();
    f.value = text;
    f.dispatchEvent(new Event("input", { bubbles: true }));
  });
}
