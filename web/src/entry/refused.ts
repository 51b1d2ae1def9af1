// An entry the server refused goes back into the fields it came from, with the server's sentence: nothing typed is lost,
// and nobody has to look for it elsewhere.

import { useEffect } from 'preact/hooks';
import { isMine, outbox } from './outbox';
import type { Waiting } from './waiting';

// `takeBack` puts the values into their fields; false where other figures stand there by now.
export function useRefused(kind: string, head: string, takeBack: (values: Record<string, unknown>, valve: string, sentence: string) => boolean): void {
  useEffect(() => outbox.entries.subscribe((all) => {
    for (const entry of all) {
      if (entry.state === 'refused' && isMine(entry) && entry.body['kind'] === kind && entry.body['head'] === head && giveBack(entry, takeBack)) {
        void outbox.letGo(entry.key);
        return;
      }
    }
  }), [kind, head]);
}

function giveBack(entry: Waiting, takeBack: Parameters<typeof useRefused>[2]): boolean {
  const values = entry.body['values'];
  if (typeof values !== 'object' || values === null || Array.isArray(values) || Object.keys(values).length === 0) return false;
  return takeBack(values as Record<string, unknown>, String(entry.body['valve'] ?? ''), entry.sentence ?? 'The server refused this entry.');
}

// A value as it goes back into its field: of a list the first.
export const asText = (value: unknown): string => (Array.isArray(value) ? asText(value[0] ?? '') : value === undefined || value === null ? '' : String(value));
