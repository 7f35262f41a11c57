// The phone's receiver, and where its fixes lie in the site's frame.
import { words } from "./language";

export interface Fix {
  lon: number;
  lat: number;
  /** Metres: holds the true place 95 % of the time (W3C Geolocation). */
  accuracy: number;
  heading: number | null;
  at: number;
}

/** Watches the receiver; returns a function that stops it. */
export function watch(see: (f: Fix) => void, fail: (why: string) => void): () => void {
  if (!navigator.geolocation) {
    fail(words.fix.noPosition);
    return () => {};
  }
  const id = navigator.geolocation.watchPosition(
    ({ coords: c, timestamp }) => see({ lon: c.longitude, lat: c.latitude, accuracy: c.accuracy, heading: c.heading, at: timestamp }),
    (e) =>
      fail(
        e.code === e.PERMISSION_DENIED
          ? words.fix.denied
          : words.fix.notYet,
      ),
    { enableHighAccuracy: true, maximumAge: 2000, timeout: 30_000 },
  );
  return () => navigator.geolocation.clearWatch(id);
}

/**
 * A fix from many, each weighed by its accuracy. The accuracy stated is the
 * median of theirs, not less: fixes within a minute share their error.
 */
export function average(fixes: Fix[]): Fix | null {
  if (!fixes.length) return null;
  let [w, lon, lat] = [0, 0, 0];
  for (const f of fixes) {
    const p = 1 / Math.max(f.accuracy, 0.01) ** 2;
    [w, lon, lat] = [w + p, lon + p * f.lon, lat + p * f.lat];
  }
  const sorted = fixes.map((f) => f.accuracy).sort((a, b) => a - b);
  return { ...fixes.at(-1)!, lon: lon / w, lat: lat / w, accuracy: sorted[Math.floor(sorted.length / 2)] };
}

/**
 * Metres east and north of an origin, by the radii of curvature of the WGS 84
 * ellipsoid there (Snyder, USGS PP 1395, eqs. 4-18 and 4-19). Within a few
 * hundred metres the error is less than a centimetre. For showing only: the log
 * keeps longitude and latitude.
 */
export function toFrame(f: { lon: number; lat: number }, origin: { lon: number; lat: number }): [number, number] {
  const a = 6378137; // metres
  const e2 = 0.00669437999014;
  const rad = Math.PI / 180;
  const s = Math.sin(((f.lat + origin.lat) / 2) * rad) ** 2;
  const n = a / Math.sqrt(1 - e2 * s);
  const m = (a * (1 - e2)) / (1 - e2 * s) ** 1.5;
  return [(f.lon - origin.lon) * rad * n * Math.cos(((f.lat + origin.lat) / 2) * rad), (f.lat - origin.lat) * rad * m];
}

/** A bearing in words: 37° is north-east. */
export function wind(bearing: number): string {
  return words.fix.winds[Math.round((((bearing % 360) + 360) % 360) / 45) % 8];
}
