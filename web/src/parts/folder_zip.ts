// Files in a folder, as one ZIP file that any computer opens: for controls whose short names leave no room for the job's
// number. Stored without packing, each under "12/NAME.NGC" (PKWARE APPNOTE 6.3.10, sections 4.3.7, 4.3.12, 4.3.16).

import { getText } from '../api/client';

const table = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n;
  for (let k = 0; k < 8; ++k) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1;
  return c >>> 0;
});
export function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff;
  for (const b of bytes) c = table[(c ^ b) & 0xff]! ^ (c >>> 8);
  return (c ^ 0xffffffff) >>> 0;
}

const firstDay = 0x21; // 1980-01-01: the same files give the same bytes

export function zipOf(files: { name: string; bytes: Uint8Array }[]): Uint8Array<ArrayBuffer> {
  const parts: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  let at = 0;
  for (const file of files) {
    const name = new TextEncoder().encode(file.name);
    const common = (view: DataView, from: number) => {
      view.setUint16(from, 20, true); // version needed
      view.setUint16(from + 2, 0x800, true); // names are UTF-8
      view.setUint16(from + 8, firstDay, true); // method 0 and time 0 before it
      view.setUint32(from + 10, crc32(file.bytes), true);
      view.setUint32(from + 14, file.bytes.length, true);
      view.setUint32(from + 18, file.bytes.length, true);
      view.setUint16(from + 22, name.length, true);
    };
    const head = new Uint8Array(30 + name.length);
    const headView = new DataView(head.buffer);
    headView.setUint32(0, 0x04034b50, true);
    common(headView, 4);
    head.set(name, 30);
    const entry = new Uint8Array(46 + name.length);
    const entryView = new DataView(entry.buffer);
    entryView.setUint32(0, 0x02014b50, true);
    entryView.setUint16(4, 20, true);
    common(entryView, 6);
    entryView.setUint32(42, at, true);
    entry.set(name, 46);
    parts.push(head, file.bytes);
    list.push(entry);
    at += head.length + file.bytes.length;
  }
  const size = list.reduce((sum, e) => sum + e.length, 0);
  const end = new Uint8Array(22);
  const endView = new DataView(end.buffer);
  endView.setUint32(0, 0x06054b50, true);
  endView.setUint16(8, files.length, true);
  endView.setUint16(10, files.length, true);
  endView.setUint32(12, size, true);
  endView.setUint32(16, at, true);
  const all = new Uint8Array(at + size + 22);
  let to = 0;
  for (const part of [...parts, ...list, end]) {
    all.set(part, to);
    to += part.length;
  }
  return all;
}

// The files as the server has them now. `mark`: what must stand in each, since a plan made anew meanwhile is another file
// than the one the page speaks of.
export async function filesOf(files: { name: string; address: string }[], mark = ''): Promise<{ name: string; bytes: Uint8Array<ArrayBuffer> }[]> {
  return Promise.all(files.map(async ({ name, address }) => {
    const text = await getText(address);
    if (!text.includes(mark)) throw new Error('The plan was made anew just now, and the file with it. Look at the step again, then take the file.');
    return { name, bytes: new TextEncoder().encode(text) };
  }));
}

export function handOver(name: string, bytes: Uint8Array<ArrayBuffer>, type: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(new Blob([bytes], { type }));
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}
