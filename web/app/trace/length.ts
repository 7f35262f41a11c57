// Written lengths, read for what this screen must know at once: the scale, and
// the message beside the field. The engine reads the same text again and its
// reading counts; a browser test holds this reading to the engine's.

/** metresPer gives the metres of a unit: 0.3048 m (85 FR 62698), 1200/3937 m. */
export const metresPer: Record<string, number> = {
  ft: 0.3048, m: 1, "us-ft": 1200 / 3937, in: 0.0254, cm: 0.01, mm: 0.001, yd: 0.9144,
};

const names: Record<string, string> = {
  "'": "ft", ft: "ft", foot: "ft", feet: "ft", '"': "in", in: "in", inch: "in", inches: "in",
  m: "m", metre: "m", metres: "m", meter: "m", meters: "m", cm: "cm", mm: "mm", yd: "yd", yard: "yd", yards: "yd",
  "us-ft": "us-ft", usft: "us-ft", "us ft": "us-ft", ftus: "us-ft",
  pie: "ft", pies: "ft", pulg: "in", pulgada: "in", pulgadas: "in", metro: "m", metros: "m",
  centimetro: "cm", centimetros: "cm", milimetro: "mm", milimetros: "mm", yarda: "yd", yardas: "yd",
};

const figure = String.raw`(\d+[ -]\d+\/\d+|\d+\/\d+|\d+(?:\.\d*)?|\.\d+)`;
const mark = String.raw`([a-z][a-z -]*[a-z]|[a-z]|'|")?\.?`;
const quantity = new RegExp(`^([+-]?) *${figure} *${mark}(?: *-? *${figure} *${mark})?$`);

const plain: [RegExp, string][] = [
  [/′′|’’|''/g, '"'], [/[′’‘ʹʼ´`]/g, "'"], [/[″”“ʺ]/g, '"'], [/[−–‐‑]/g, "-"], [/⁄/g, "/"],
  [/\b(pies?) y (?=\d)/g, "$1 "], [/½/g, " 1/2"], [/¼/g, " 1/4"], [/¾/g, " 3/4"], [/⅛/g, " 1/8"], [/⅜/g, " 3/8"], [/⅝/g, " 5/8"], [/⅞/g, " 7/8"],
];

/**
 * pointed writes a decimal comma as a point, where it can be nothing else: before three
 * figures it may part thousands, unless nothing but a zero stands before it.
 */
const pointed = (s: string): string => s.replace(/(\d+),(\d+)/g, (all, whole, rest) => (rest.length !== 3 || whole.startsWith("0") ? `${whole}.${rest}` : all));

/**
 * metres reads a length such as 43'6", 43 ft 6 in, 43 pies 6 pulgadas, 43.5 ft,
 * 13.26 m, 13,26 m, or a number in the unit bare. It returns nothing where the text is not a length,
 * or where inches after feet make a foot or more.
 */
export function metres(text: string, bare: string): number | undefined {
  let s = pointed(text.trim().toLowerCase().normalize("NFD").replace(/\p{M}/gu, ""));
  for (const [mark, by] of plain) s = s.replace(mark, by);
  s = s.replace(/\s+/g, " ").trim();
  const m = quantity.exec(s);
  if (!m) return undefined;
  const [, sign, first, firstMark, second, secondMark] = m;
  const unit = firstMark ? names[firstMark.trim()] : bare;
  let value = number(first);
  if (value === undefined || !unit || !(unit in metresPer)) return undefined;
  if (second) {
    const inches = number(second);
    const after = secondMark ? names[secondMark.trim()] : "in";
    if (!firstMark || unit !== "ft" || /[./]/.test(first) || after !== "in" || inches === undefined || inches >= 12) return undefined;
    value += inches / 12;
  }
  return (sign === "-" ? -value : value) * metresPer[unit];
}

function number(s: string): number | undefined {
  const m = /^(?:(\d+)[ -])?(\d+)\/(\d+)$/.exec(s);
  if (!m) return Number(s);
  const [whole, above, below] = [Number(m[1] ?? 0), Number(m[2]), Number(m[3])];
  return below === 0 || (m[1] !== undefined && above >= below) ? undefined : whole + above / below;
}

/** isBare reports whether a text is a number without a unit. */
export const isBare = (text: string): boolean => /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(pointed(text.trim()));

/** shown writes a length in the crew's unit, to the nearest half inch or centimetre. */
export function shown(m: number, unit: "ft" | "m"): string {
  if (unit === "m") return `${m.toFixed(2)} m`;
  const halves = Math.round((Math.abs(m) / 0.0254) * 2);
  const sign = m < 0 && halves > 0 ? "−" : "";
  const feet = Math.floor(halves / 24);
  const inches = (halves % 24) / 2;
  return `${sign}${feet}′ ${Math.floor(inches)}${inches % 1 ? "½" : ""}″`;
}
