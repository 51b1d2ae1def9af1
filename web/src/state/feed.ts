// The feed this screen reads from, if any: its newest state, asked again and again while a field is there for it.

import { signal } from '@preact/signals';
import { get, post, sentenceOf } from '../api/client';
import type { Feed, FeedNow, Offered } from '../api/feeds';

const kept = 'seatwright.feed';
const askEvery = 300; // ms

export const feeds = signal<Feed[]>([]);
export const chosenFeed = signal<number | null>(Number(localStorage.getItem(kept) ?? '') || null);
export const feedNow = signal<FeedNow | null>(null);
export const feedTrouble = signal<string | null>(null);

export function chooseFeed(id: number | null): void {
  chosenFeed.value = id;
  feedNow.value = null;
  feedTrouble.value = null;
  if (id === null) localStorage.removeItem(kept);
  else localStorage.setItem(kept, String(id));
}

export async function fetchFeeds(): Promise<void> {
  feeds.value = await get<{ feeds: Feed[] }>('/feeds').then((a) => a.feeds).catch(() => feeds.peek());
  if (chosenFeed.peek() !== null && feeds.peek().length > 0 && !feeds.peek().some((f) => f.id === chosenFeed.peek())) chooseFeed(null);
}

// One question at a time, however slow the network: what is shown is the newest that came.
export function watchFeed(): () => void {
  let over = false;
  const ask = async () => {
    const id = chosenFeed.peek();
    if (id !== null && document.visibilityState === 'visible') {
      try {
        const now = await get<FeedNow>(`/feeds/${id}/now`);
        if (chosenFeed.peek() === id) [feedNow.value, feedTrouble.value] = [now, null];
      } catch (fault) {
        [feedNow.value, feedTrouble.value] = [null, sentenceOf(fault)];
      }
    }
    if (!over) setTimeout(() => void ask(), askEvery);
  };
  void ask();
  return () => { over = true; };
}

export async function takeNow(): Promise<Offered | null> {
  const id = chosenFeed.peek();
  if (id === null) return null;
  try {
    feedTrouble.value = null;
    return await post<Offered>(`/feeds/${id}/take`, {});
  } catch (fault) {
    feedTrouble.value = sentenceOf(fault);
    return null;
  }
}

// As it stands in the record: source, who or what decided, when, and the text as it came.
export const recordWords = (of: Offered): string =>
  `from ${of.source}, ${of.by} ${of.at}: ${of.readings.map((r) => `${r.what} '${r.raw}'${r.stated ? ` of ${r.stated}` : ''}`).join(', ')}${of.remark ? `; ${of.remark}` : ''}`;
