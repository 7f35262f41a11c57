// Who this device is to the server. Without a session the app still works with
// what is stored on the device; it only cannot exchange.
import type { Refusal as Refused, Session } from "./answer";
import { Refusal } from "./engine";
import { words } from "./language";

/** Sends a request to the server and reads its JSON; a Refusal says why not. */
export async function ask<T>(method: string, path: string, body?: unknown): Promise<T> {
  const blob = body instanceof Blob;
  const headers: Record<string, string> = {};
  if (body !== undefined) headers["Content-Type"] = blob ? body.type : "application/json";
  const r = await fetch(path, { method, headers, body: blob ? body : body === undefined ? undefined : JSON.stringify(body) });
  const text = await r.text();
  if (!r.ok) {
    let e: Partial<Refused> = {};
    try {
      e = JSON.parse(text);
    } catch {
      // Not from our server: a proxy in between, perhaps. The status has to be
      // enough.
    }
    throw Object.assign(new Refusal(e.error ? words.wrong.server(r.status, e.error) : words.wrong.status(r.status), e.problems), { status: r.status });
  }
  return (text ? JSON.parse(text) : undefined) as T;
}

/** The session of this device; where it has none, why; undefined when the server is unreachable. */
export async function session(): Promise<Session | string | undefined> {
  try {
    return await ask<Session>("GET", "/api/session");
  } catch (e) {
    const { status, message } = e as Error & { status?: number };
    return status === 401 ? message : undefined;
  }
}

/** Joins with the token of a one-time link. */
export const join = (token: string, name: string) => ask<Session>("POST", "/api/session", { token, name });

/** Leaves: the server forgets this device. */
export const leave = () => ask<void>("DELETE", "/api/session");
