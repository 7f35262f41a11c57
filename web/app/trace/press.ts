// Presses that would be lost. A field that is left takes what was typed, and
// the rows below it move: the finger then goes up over another place than it
// came down on, and the browser reports no click on the button. It reports none
// either where a finger rests for half a second. What was under the finger when
// it came down is what was meant, unless the finger moved away.

import { useEffect } from "preact/hooks";

const still = 12; // pixels that a press may wander
const wait = 100; // ms that the browser has to report the click itself

/** leaveField takes what was typed into the field that has the focus. */
export function leaveField() {
  const at = document.activeElement;
  if (at instanceof HTMLInputElement || at instanceof HTMLTextAreaElement) at.blur();
}

/** useSteadyPress makes every press on a button in root count, once. */
export function useSteadyPress(root: { current: HTMLElement | null }) {
  useEffect(() => {
    const el = root.current!;
    let on: { button: HTMLElement; id: number; x: number; y: number; counted: boolean } | undefined;
    const count = () => {
      if (!on || on.counted) return;
      on.counted = true;
      if (on.button.isConnected) on.button.click();
    };
    const down = (e: PointerEvent) => {
      const to = e.target as Element;
      // What was typed is taken first: the board keeps the focus where it is, and so does Safari on a button.
      if (to.closest("button, summary, .trace-board") && !to.closest(".trace-marks")) leaveField();
      const button = e.button === 0 && e.isPrimary ? to.closest<HTMLElement>("button, summary") : null;
      on = button ? { button, id: e.pointerId, x: e.clientX, y: e.clientY, counted: false } : undefined;
    };
    const near = (e: MouseEvent) => !!on && Math.hypot(e.clientX - on.x, e.clientY - on.y) <= still;
    const up = (e: PointerEvent) => {
      if (!on || e.pointerId !== on.id) return;
      if (!near(e)) on = undefined;
      else setTimeout((was: typeof on) => was === on && count(), wait, on);
    };
    const cancel = () => { on = undefined; }; // the finger scrolls
    const click = (e: MouseEvent) => {
      // A click by the keyboard, or of count, is the browser's own affair.
      if (!e.isTrusted || e.detail === 0 || !on) return;
      if (!on.counted && on.button.contains(e.target as Node)) { on.counted = true; return; }
      if (!on.counted && !near(e)) return;
      e.stopPropagation();
      e.preventDefault();
      count();
    };
    el.addEventListener("pointerdown", down, true);
    addEventListener("pointerup", up, true);
    addEventListener("pointercancel", cancel, true);
    el.addEventListener("click", click, true);
    return () => {
      el.removeEventListener("pointerdown", down, true);
      removeEventListener("pointerup", up, true);
      removeEventListener("pointercancel", cancel, true);
      el.removeEventListener("click", click, true);
    };
  }, []);
}
