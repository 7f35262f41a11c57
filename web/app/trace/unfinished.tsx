// A drawing that is not saved with its job yet. The device keeps it with every
// change, so that neither Back, nor a reload, nor a page that the phone kills
// loses it, and asks whether to go on when the screen is opened again.

import { useState } from "preact/hooks";
import type { Vec } from "./geometry";
import { dates, words } from "./language";
import type { Sketch } from "./sketch";
import type { Tool } from "./state";
import type { Note } from "./typed";

/** Frame is how a picture lies before it is squared up: turned, and where the sheet's corners are in it. */
export interface Frame {
  turn: number; // quarter turns clockwise
  corners: Vec[]; // fractions of the turned picture
  found?: boolean; // by the page, to be checked
  paper: string; // name of the paper's size, "" where it is not known
}

/** Unfinished is everything on the screen that cannot be made again. */
export interface Unfinished {
  sketch: Sketch;
  step: string;
  tool: Tool;
  places: Vec[]; // that were touched with the tool, in the screen's plane
  bare: boolean; // drawn without a picture
  fresh: boolean; // the picture is not with the job yet, but is kept beside this
  page: number;
  frame?: Frame;
  laid: boolean; // the picture is squared up and lies under the drawing
  on: string; // the job's sketch that this was begun on, as JSON
  at: string; // time of the last change
}

/** Drawer is where the device keeps the unfinished drawing of a job. */
export interface Drawer {
  found: { drawing: Unfinished; picture: Blob | null } | null;
  /** put replaces drawing and picture together, or neither; the picture stays where it is left out. */
  put: (drawing: Unfinished, picture?: Blob | null) => Promise<void>;
  empty: () => Promise<void>;
  note: Note; // what is half typed
}

/** full reports whether an error says that the device has no space left. */
export const full = (e: unknown): boolean => (e as Error)?.name === "QuotaExceededError" || (e as Error)?.name === "NS_ERROR_DOM_QUOTA_REACHED";

/**
 * keeping returns the functions that write to a drawer: one change at a time,
 * and of those that wait only the last. done is called after each with what
 * went wrong, if anything did.
 */
export function keeping(drawer: Drawer, done: (wrong: unknown) => void) {
  let stored: Blob | null | undefined = drawer.found ? drawer.found.picture : undefined;
  let next: [Unfinished, Blob | null | undefined] | undefined;
  let running = false;
  let over = false;
  const run = async () => {
    running = true;
    while (next && !over) {
      const [drawing, picture] = next;
      next = undefined;
      try {
        await drawer.put(drawing, picture === stored ? undefined : picture);
        if (picture !== undefined) stored = picture;
        done(undefined);
      } catch (e) {
        done(e);
      }
    }
    running = false;
  };
  return {
    /** put keeps a drawing and its picture; without one, the picture that is there. */
    put: (drawing: Unfinished, picture: Blob | null | undefined) => {
      next = [drawing, picture];
      if (!running) void run();
    },
    /** empty throws the drawing away; nothing is kept after it. */
    empty: () => {
      over = true;
      return drawer.empty();
    },
  };
}

/** Ask asks whether to go on with a drawing that was not finished. */
export function Ask({ drawing, now, goOn, anew }: { drawing: Unfinished; now: string; goOn: () => void; anew: () => void }) {
  const [sure, ask] = useState(false);
  const n = drawing.sketch.features.length;
  const parts = n > 0 ? words.common.pages(n) : "";
  return (
    <div class="trace">
      <div class="trace-panel trace-choose">
        <h2>{words.unfinished.title}</h2>
        <p>
          {words.unfinished.what(drawing.laid || drawing.fresh, parts, new Date(drawing.at).toLocaleString(dates(), { dateStyle: "medium", timeStyle: "short" }))}
        </p>
        {drawing.on !== now && <p class="trace-bad">{words.unfinished.changed}</p>}
        {sure ? (
          <div class="trace-ask" role="alertdialog" aria-label={words.unfinished.startOver}>
            <p>{words.unfinished.gone(parts)}</p>
            <button type="button" onClick={anew}>{words.trace.throwAway}</button>
            <button type="button" class="trace-main" onClick={() => ask(false)}>{words.unfinished.doNot}</button>
          </div>
        ) : (
          <>
            <button type="button" class="trace-main" onClick={goOn}>{words.unfinished.goOn}</button>
            <button type="button" onClick={() => ask(true)}>{words.unfinished.over}</button>
          </>
        )}
      </div>
    </div>
  );
}
