// The service worker: keeps the app whole on this device, and says when there
// is a newer version. Two versions are never mixed: all tabs change together.

export interface Update {
  /** The app is complete without a network. */
  ready: boolean;
  /** Takes the newer version; null while there is none. */
  take: (() => void) | null;
}

/** Registers the service worker and reports its state. */
export function keepWhole(see: (u: Update) => void) {
  const sw = navigator.serviceWorker;
  if (!sw) return; // plain HTTP from another machine: the browser allows no service worker
  const first = !sw.controller;
  let reloading = false;
  sw.addEventListener("controllerchange", () => {
    // The first worker takes over a page of its own version.
    if (first && !reloading) return see({ ready: true, take: null });
    if (!reloading) location.reload();
    reloading = true;
  });
  const rest = () => void sw.ready.then((now) => now.active?.postMessage("keep the rest"));
  let pause = 5_000; // until the next try, milliseconds
  const again = () => {
    setTimeout(register, pause);
    pause = Math.min(2 * pause, 60_000);
  };
  function register() {
    sw.register("/sw.js")
      .then((r) => {
        const look = () => {
          const waiting = r.waiting;
          if (waiting && sw.controller) see({ ready: true, take: () => waiting.postMessage("take over") });
          else if (r.active) see({ ready: true, take: null });
        };
        const follow = (worker: ServiceWorker | null) => {
          if (!worker) return;
          worker.onstatechange = () => {
            look();
            // A line that broke on a first visit: the browser gives up, and this device would never be whole.
            if (worker.state === "redundant" && !r.active) again();
          };
        };
        look();
        follow(r.installing);
        r.onupdatefound = () => follow(r.installing);
      })
      .catch(again);
  }
  register();
  rest();
  addEventListener("online", rest);
  document.addEventListener("visibilitychange", () => document.hidden || void sw.getRegistration().then((r) => r?.update()).catch(() => {}));
}
