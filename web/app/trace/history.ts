// Undo and redo. A sketch is never changed in place, so keeping one means
// keeping a reference.

export interface History<T> {
  past: readonly T[];
  now: T;
  future: readonly T[];
}

const most = 200; // steps that can be undone

export const begin = <T>(now: T): History<T> => ({ past: [], now, future: [] });

/** change makes next the present; nothing changes where it is the present already. */
export const change = <T>(h: History<T>, next: T): History<T> =>
  next === h.now ? h : { past: [...h.past, h.now].slice(-most), now: next, future: [] };

export const undo = <T>(h: History<T>): History<T> =>
  h.past.length === 0 ? h : { past: h.past.slice(0, -1), now: h.past[h.past.length - 1], future: [h.now, ...h.future] };

export const redo = <T>(h: History<T>): History<T> =>
  h.future.length === 0 ? h : { past: [...h.past, h.now], now: h.future[0], future: h.future.slice(1) };
