// Feeds, and which of them this screen reads from at each kind of entry: its newest state, asked again and again while a
// field stands there for it.

import { signal, type Signal } from '@preact/signals';
import { get, post, sentenceOf } from '../api/client';
import type { Feed, FeedNow, LiveReading, Offered } from '../api/feeds';
import { mmIn, type LengthUnit, type Quantity } from '../numbers/quantity';

const askEvery = 300; // ms

export const feeds = signal<Feed[]>([]);

// What one kind of entry reads from: touches from the machine, bores from the gauge that measures bores.
export interface Reader {
  entry: string;
  chosen: Signal<number | null>;
  now: Signal<FeedNow | null>;
  trouble: Signal<string | null>;
}

// When the reading last used of each feed was offered: it is not the next reading too, at this entry or another.
export const used = signal<Record<number, string>>({});

const readers = new Map<string, Reader>();
const kept = (entry: string) => `seatwright.feed.${entry}`;

export function readerOf(entry: string): Reader {
  const known = readers.get(entry);
  if (known) return known;
  const made: Reader = { entry, chosen: signal(Number(localStorage.getItem(kept(entry)) ?? '') || null), now: signal(null), trouble: signal(null) };
  readers.set(entry, made);
  return made;
}

export function choose(reader: Reader, id: number | null): void {
  reader.chosen.value = id;
  reader.now.value = null;
  reader.trouble.value = null;
  if (id === null) localStorage.removeItem(kept(reader.entry));
  else localStorage.setItem(kept(reader.entry), String(id));
}

export async function fetchFeeds(): Promise<void> {
  feeds.value = await get<{ feeds: Feed[] }>('/feeds').then((a) => a.feeds).catch(() => feeds.peek());
}

// One question at a time, however slow the network: what is shown is the newest that came. Nothing is asked while the
// field is not to be seen. What is said of it is said in `unit`.
export function watchFeed(reader: Reader, seen: () => boolean, unit: () => LengthUnit): () => void {
  let over = false;
  const ask = async () => {
    const id = reader.chosen.peek();
    if (id !== null && document.visibilityState === 'visible' && seen()) {
      try {
        const now = await get<FeedNow>(`/feeds/${id}/now?units=${unit()}`);
        if (reader.chosen.peek() === id) [reader.now.value, reader.trouble.value] = [now, null];
      } catch (fault) {
        [reader.now.value, reader.trouble.value] = [null, sentenceOf(fault)];
      }
    }
    if (!over) setTimeout(() => void ask(), askEvery);
  };
  void ask();
  return () => { over = true; };
}

export async function takeNow(reader: Reader, unit: LengthUnit): Promise<Offered | null> {
  const id = reader.chosen.peek();
  if (id === null) return null;
  try {
    reader.trouble.value = null;
    return await post<Offered>(`/feeds/${id}/take?units=${unit}`, {});
  } catch (fault) {
    reader.trouble.value = sentenceOf(fault);
    return null;
  }
}

// As it stands in the record: source, who or what decided, when, and the text as it came.
export const recordWords = (of: Offered): string =>
  `from ${of.source}, ${of.by} ${of.at}: ${of.readings.map((r) => `${r.what} '${oneLine(r.raw)}'${r.stated ? ` of ${r.stated}` : ''}`).join(', ')}${of.remark ? `; ${of.remark}` : ''}`;
// What a wire sends beside letters is shown as a dot.
const oneLine = (raw: string) => raw.replace(/\p{Cc}/gu, '·');

// As it is put into a field: in the unit the page shows, as a person would type it, far finer than any readout counts.
export function asTyped(r: LiveReading, unit: LengthUnit): string {
  if (r.value_deg !== undefined) return `${Number(r.value_deg.toFixed(5))}°`;
  return `${Number(((r.value_mm ?? 0) / mmIn[unit]).toFixed(unit === 'in' ? 6 : 5))} ${unit}`;
}

// Which figure of a feed is for which field. A machine's figures have names (x, y, z, tilt); a gauge that serves whatever is
// read with it says "any", and its figure goes to the field somebody stands in.
export interface LiveField {
  key: string; // what a figure of it is called: x, depth, stem_height
  label: string;
  text: Signal<string>;
  quantity: Quantity;
}

const anyField = 'any';

const isAngle = (r: LiveReading) => r.value_deg !== undefined;
const ofUnit = (unit: string, quantity: Quantity) => (unit === 'deg' ? quantity === 'angle' : quantity === 'length');

// Whether the feed has a figure for one of them.
export const fits = (feed: Feed, fields: LiveField[]): boolean =>
  feed.settings.channels.some((c) => fields.some((f) => (c.what === f.key || c.what === anyField) && ofUnit(c.unit, f.quantity)));

export interface Filled { field: LiveField; reading: LiveReading }

// Each figure with its field. `standing`: the field somebody stands in, if it is one of these; else what has no name goes
// to the first that is empty, and to the first of all where none is.
export function filled(readings: LiveReading[], fields: LiveField[], standing: Signal<string> | undefined): Filled[] {
  return readings.flatMap((reading) => {
    const like = fields.filter((f) => (isAngle(reading) ? f.quantity === 'angle' : f.quantity === 'length'));
    const field = reading.what === anyField
      ? like.find((f) => f.text === standing) ?? like.find((f) => f.text.value.trim() === '') ?? like[0]
      : like.find((f) => f.key === reading.what);
    return field ? [{ field, reading }] : [];
  });
}
