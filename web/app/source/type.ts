// The type of a file, by its first bytes and never by its name: a PNG is often
// called photo.jpg. The server has the same table, web/entry/type.go.

const signatures: [at: number, bytes: string, type: string][] = [
  [0, "\x89PNG\r\n\x1a\n", "image/png"],
  [0, "\xff\xd8\xff", "image/jpeg"],
  [0, "GIF87a", "image/gif"],
  [0, "GIF89a", "image/gif"],
  [8, "WEBPVP", "image/webp"],
  [4, "ftypheic", "image/heic"],
  [4, "ftypheix", "image/heic"],
  [4, "ftypmif1", "image/heic"],
  [4, "ftypmsf1", "image/heic"],
  [0, "%PDF-", "application/pdf"],
];

/** The same bytes, called what they are; what no browser is asked to show is a plain file. */
export async function typed(blob: Blob): Promise<Blob> {
  const head = String.fromCharCode(...new Uint8Array(await blob.slice(0, 16).arrayBuffer()));
  const type = signatures.find(([at, bytes]) => head.startsWith(bytes, at))?.[2] ?? "application/octet-stream";
  return type === blob.type ? blob : blob.slice(0, blob.size, type);
}
