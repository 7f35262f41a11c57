// The engine: the same Go code in a worker of this browser or, where it was not
// built or will not load, on the server. The same requests get the same
// answers.
import type { Problem, Refusal as Refused, Stages } from "./answer";
import { language, words } from "./language";
import { version } from "./version";

/** What went wrong, for a person. */
export class Refusal extends Error {
  constructor(
    message: string,
    readonly problems: Problem[] = [],
  ) {
    super(message);
  }
}

export type Where = "loading" | "here" | "server" | "none";

interface Answer {
  resolve(body: string): void;
  reject(error: Error): void;
}

let worker: Worker | null = null;
let where: Where = "loading";
let turn = 0;
const waiting = new Map<number, Answer>();
const watchers = new Set<(w: Where) => void>();
let begun: Promise<void> | null = null;

/** Reports where the engine runs, now and whenever that changes. */
export function watchEngine(f: (w: Where) => void): () => void {
  watchers.add(f);
  f(where);
  return () => watchers.delete(f);
}

/** Reports whether the engine runs on this device. */
export const here = () => where === "here";

function move(to: Where) {
  where = to;
  watchers.forEach((f) => f(to));
}

/** Starts the engine in a worker; done when it runs or has failed to. */
export function start(): Promise<void> {
  return (begun ??= new Promise<void>((done) => {
    const fail = () => {
      worker?.terminate();
      worker = null;
      waiting.forEach((a) => a.reject(new Error(words.wrong.stopped)));
      waiting.clear();
      move("server");
      done();
    };
    worker = new Worker(`/static/worker.js?v=${version}`);
    worker.onerror = fail;
    worker.onmessage = ({ data }) => {
      if (data.ready) {
        move("here");
        done();
      } else if (data.failed) fail();
      else hear(data);
    };
  }));
}

function hear(data: { id: number; ok: boolean; body?: string; error?: string }) {
  const a = waiting.get(data.id);
  waiting.delete(data.id);
  if (data.ok) a?.resolve(data.body!);
  else a?.reject(refusal(data.error ?? words.wrong.noAnswer));
}

function refusal(text: string): Refusal {
  try {
    const e = JSON.parse(text) as Partial<Refused>;
    return new Refusal(e.error ?? text, e.problems);
  } catch {
    return new Refusal(text);
  }
}

let forms = 0;
let rested: (() => void)[] = [];

/** Keeps the engine free for the questions of a form, until the function that it returns is called. */
export function keepFree(): () => void {
  forms++;
  return () => {
    if (--forms > 0) return;
    rested.forEach((go) => go());
    rested = [];
  };
}

/** Waits until no form needs the engine: for work that can wait. */
export const spare = (): Promise<void> => (forms === 0 ? Promise.resolve() : new Promise((go) => rested.push(go)));

/** Calls one stage of the engine. */
export async function stage<Name extends keyof Stages>(name: Name, request: Stages[Name]["request"]): Promise<Stages[Name]["answer"]> {
  await start();
  const body = JSON.stringify({ ...request, language }); // of the sentences in the answer
  if (worker) {
    const answer = new Promise<string>((resolve, reject) => waiting.set(++turn, { resolve, reject }));
    worker.postMessage({ id: turn, stage: name, body });
    return JSON.parse(await answer) as Stages[Name]["answer"];
  }
  let r: Response;
  try {
    r = await fetch(`/api/stage/${name}`, { method: "POST", headers: { "Content-Type": "application/json" }, body });
  } catch {
    move("none");
    throw new Refusal(words.wrong.unreachable);
  }
  const text = await r.text();
  if (!r.ok) throw refusal(text);
  move("server");
  return JSON.parse(text) as Stages[Name]["answer"];
}
