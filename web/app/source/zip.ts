// Archives, as far as job folders need them: the format of PKWARE's APPNOTE
// 6.3, entries stored or deflated, below 4 GB.
import { words } from "./language";

const crcs = Uint32Array.from({ length: 256 }, (_, n) => {
  for (let k = 0; k < 8; k++) n = n & 1 ? 0xedb88320 ^ (n >>> 1) : n >>> 1;
  return n >>> 0;
});

function crc32(b: Uint8Array): number {
  let c = 0xffffffff;
  for (const x of b) c = crcs[(c ^ x) & 255] ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

/** An archive of files, stored: photos are compressed already. */
export function pack(files: Map<string, Uint8Array>): Blob {
  const parts: BlobPart[] = [];
  const index: Uint8Array[] = [];
  let at = 0;
  for (const [name, data] of files) {
    const path = new TextEncoder().encode(name);
    const head = new DataView(new ArrayBuffer(26));
    head.setUint16(0, 20, true); // version needed
    head.setUint16(2, 0x0800, true); // names are UTF-8
    head.setUint16(8, 0x21, true); // 1980-01-01: the archive is the same every time
    head.setUint32(10, crc32(data), true);
    head.setUint32(14, data.length, true);
    head.setUint32(18, data.length, true);
    head.setUint16(22, path.length, true);
    const fields = new Uint8Array(head.buffer);
    const mark = (n: number) => Uint8Array.of(0x50, 0x4b, n, n + 1);
    parts.push(mark(3), fields, path, data as BlobPart);
    const tail = new DataView(new ArrayBuffer(14)); // comment, disk, attributes: none; then the place
    tail.setUint32(10, at, true);
    index.push(mark(1), Uint8Array.of(20, 0), fields, new Uint8Array(tail.buffer), path);
    at += 30 + path.length + data.length;
  }
  const size = index.reduce((n, b) => n + b.length, 0);
  const end = new DataView(new ArrayBuffer(22));
  end.setUint32(0, 0x06054b50, true);
  end.setUint16(8, files.size, true);
  end.setUint16(10, files.size, true);
  end.setUint32(12, size, true);
  end.setUint32(16, at, true);
  return new Blob([...parts, ...(index as BlobPart[]), end.buffer], { type: "application/zip" });
}

async function inflate(data: Uint8Array, limit: number): Promise<Uint8Array> {
  const stream = new Blob([data as BlobPart]).stream().pipeThrough(new DecompressionStream("deflate-raw"));
  const chunks: Uint8Array[] = [];
  let n = 0;
  for (let r, reader = stream.getReader(); !(r = await reader.read()).done; ) {
    n += r.value.length;
    // The size is stated beforehand: a file that unpacks to more is a zip bomb
    // or damaged.
    if (n > limit) throw new Error(words.wrong.zipLarger);
    chunks.push(r.value);
  }
  const out = new Uint8Array(n);
  for (let at = 0, i = 0; i < chunks.length; at += chunks[i++].length) out.set(chunks[i], at);
  return out;
}

/** The files of an archive, without a folder that they all lie in. */
export async function unpack(blob: Blob): Promise<Map<string, Uint8Array>> {
  const b = new Uint8Array(await blob.arrayBuffer());
  const v = new DataView(b.buffer);
  let end = b.length - 22;
  while (end >= 0 && v.getUint32(end, true) !== 0x06054b50) end--;
  if (end < 0) throw new Error(words.wrong.noZip);
  const files = new Map<string, Uint8Array>();
  let at = v.getUint32(end + 16, true);
  for (let n = v.getUint16(end + 10, true); n > 0; n--) {
    if (at + 46 > b.length || v.getUint32(at, true) !== 0x02014b50) throw new Error(words.wrong.zipDamaged);
    const method = v.getUint16(at + 10, true);
    const packed = v.getUint32(at + 20, true);
    const size = v.getUint32(at + 24, true);
    const path = v.getUint16(at + 28, true);
    const place = v.getUint32(at + 42, true);
    const name = new TextDecoder().decode(b.subarray(at + 46, at + 46 + path));
    at += 46 + path + v.getUint16(at + 30, true) + v.getUint16(at + 32, true);
    if (name.endsWith("/")) continue;
    if (size > 200e6) throw new Error(words.wrong.tooLarge(name));
    const from = place + 30 + v.getUint16(place + 26, true) + v.getUint16(place + 28, true);
    const data = b.subarray(from, from + packed);
    if (method !== 0 && method !== 8) throw new Error(words.wrong.packedOddly(name));
    files.set(name, method === 0 ? data : await inflate(data, size));
  }
  return bare(files);
}

/** Leaves out a folder that all files lie in. */
export function bare(files: Map<string, Uint8Array>): Map<string, Uint8Array> {
  const tops = new Set([...files.keys()].map((n) => (n.includes("/") ? n.slice(0, n.indexOf("/") + 1) : "")));
  const [top] = tops;
  return tops.size === 1 && top ? new Map([...files].map(([n, d]) => [n.slice(top.length), d])) : files;
}
