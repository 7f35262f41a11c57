// The address after # says which screen is shown, so that the browser's back
// button works. It is never sent to the server.
import { useEffect, useState } from "preact/hooks";

export interface Route {
  /** Job id; "" where no job is open. */
  job: string;
  screen: string;
  /** What the screen is about: a part, a reading to measure again, a token. */
  about: string;
}

function read(): Route {
  const joining = /^#join=(.+)$/.exec(location.hash);
  if (joining) return { job: "", screen: "join", about: joining[1] };
  const [, screen = "jobs", job = "", about = ""] = location.hash.split("/").map(decodeURIComponent);
  return { job, screen, about };
}

/** The address of a screen. */
export function to(screen: string, job = "", about = ""): string {
  return "#/" + [screen, job, about].map(encodeURIComponent).join("/").replace(/\/+$/, "");
}

export function go(screen: string, job = "", about = "") {
  location.hash = to(screen, job, about);
}

/** Goes back; where there is nothing to go back to, to a screen's address. */
export function back(address: string) {
  if (history.length > 1) history.back();
  else location.replace(address);
}

/** The current screen; the component renders again when it changes. */
export function useRoute(): Route {
  const [route, set] = useState(read);
  useEffect(() => {
    const f = () => set(read());
    addEventListener("hashchange", f);
    return () => removeEventListener("hashchange", f);
  }, []);
  return route;
}
