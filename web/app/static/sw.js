// The service worker: all files of one version, or none. FILES is filled in by
// the server: each name with the SHA-256 of what belongs to this version. LATER
// is what is too large for a first visit: the page asks for it once it works.
const VERSION = "{{version}}";
const FILES = {{files}};
const LATER = {{later}};
const CACHE = `asfound ${VERSION}`;
const hex = (buffer) => Array.from(new Uint8Array(buffer), (b) => b.toString(16).padStart(2, "0")).join("");

// A file that is not of this version fails the whole installation: the page
// goes on with the version that it has.
async function fetchOne(cache, path, sum) {
  if (await cache.match(path)) return; // an installation that broke off goes on where it was
  const r = await fetch(path === "/" ? "/" : `${path}?v=${VERSION}`, { cache: "no-cache", credentials: "same-origin" });
  if (!r.ok) throw new Error(`${path}: ${r.status}`);
  const body = await r.arrayBuffer();
  if (hex(await crypto.subtle.digest("SHA-256", body)) !== sum) throw new Error(`${path} is of another version`);
  await cache.put(path, new Response(body, { headers: headers(r) }));
}

// Headers that belong to the page; the encoding was undone already.
function headers(r) {
  const h = new Headers();
  for (const name of ["Content-Type", "Content-Security-Policy", "Cross-Origin-Opener-Policy", "Cross-Origin-Embedder-Policy", "Permissions-Policy", "Referrer-Policy", "X-Content-Type-Options"]) {
    const v = r.headers.get(name);
    if (v) h.set(name, v);
  }
  return h;
}

addEventListener("install", (e) =>
  e.waitUntil(
    caches.open(CACHE).then(async (cache) => {
      await Promise.all(Object.entries(FILES).map(([path, sum]) => fetchOne(cache, path, sum)));
    }),
  ),
);

addEventListener("activate", (e) =>
  e.waitUntil(
    caches
      .keys()
      .then((keys) => Promise.all(keys.filter((k) => k.startsWith("asfound ") && k !== CACHE).map((k) => caches.delete(k))))
      .then(() => clients.claim()),
  ),
);

addEventListener("message", (e) => {
  if (e.data === "take over") skipWaiting();
  if (e.data === "keep the rest") e.waitUntil(keepRest());
});

// Without a network nothing is kept, and the page asks again when it is opened.
async function keepRest() {
  const cache = await caches.open(CACHE);
  for (const [path, sum] of Object.entries(LATER)) {
    await fetchOne(cache, path, sum).catch(() => {});
  }
}

addEventListener("fetch", (e) => {
  const url = new URL(e.request.url);
  if (e.request.method !== "GET" || url.origin !== location.origin || url.pathname.startsWith("/api/")) return;
  const path = e.request.mode === "navigate" ? "/" : url.pathname;
  e.respondWith(
    caches.open(CACHE).then(async (cache) => {
      return (await cache.match(path)) ?? fetch(e.request);
    }),
  );
});
