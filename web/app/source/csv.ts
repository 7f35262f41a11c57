// Tables as RFC 4180 has them.

/** The records of a table with the line that each begins on. */
export function parse(text: string): { line: number; fields: string[] }[] {
  const out: { line: number; fields: string[] }[] = [];
  let fields: string[] = [];
  let field = "";
  let quoted = false;
  let line = 1;
  let start = 1;
  const end = () => {
    fields.push(field);
    if (fields.length > 1 || field.trim() !== "") out.push({ line: start, fields });
    [fields, field] = [[], ""];
  };
  const s = text.replace(/^\uFEFF/, "").replace(/\r\n?/g, "\n");
  for (let i = 0; i < s.length; i++) {
    const c = s[i];
    if (c === "\n") line++;
    if (quoted) {
      if (c !== '"') field += c;
      else if (s[i + 1] === '"') (field += '"'), i++;
      else quoted = false;
    } else if (c === '"' && field === "") quoted = true;
    else if (c === ",") {
      fields.push(field);
      field = "";
    } else if (c === "\n") {
      end();
      start = line;
    } else field += c;
  }
  if (field !== "" || fields.length) end();
  return out;
}

/** A table with its header row; empty columns are left out. */
export function write(columns: string[], rows: Record<string, string>[]): string {
  const extra = new Set(rows.flatMap(Object.keys));
  columns.forEach((c) => extra.delete(c));
  const used = [...columns, ...extra].filter((c) => rows.some((r) => r[c]));
  const quote = (s = "") => (/[",\r\n]|^\s|\s$/.test(s) ? `"${s.replaceAll('"', '""')}"` : s);
  return [used, ...rows.map((r) => used.map((c) => r[c]))].map((r) => r.map((f) => quote(f)).join(",")).join("\r\n") + "\r\n";
}
