// Server-sent events with a resume that survives a server restart. EventSource reconnects by itself after a
// dropped connection, but gives up for good after an error status; then this opens a new one.

import { signal } from '@preact/signals';

export interface Listening { close(): void }

export const heardAnew = signal(0); // counts streams that were opened again and orders to read all anew: the server may be another by then

const retryAfter = 2_000; // ms

export function listen(path: string, names: string[], heard: (name: string, data: unknown) => void,
                       connected: () => void): Listening {
  let source: EventSource | undefined;
  let timer: number | undefined;
  let closed = false;
  let before = false; // it was open once

  const open = () => {
    if (closed) return;
    source = new EventSource(`/api${path}`);
    source.onopen = () => {
      if (before) heardAnew.value += 1;
      before = true;
      connected();
    };
    source.addEventListener('resync', () => { heardAnew.value += 1; });
    source.onerror = () => {
      if (source?.readyState !== EventSource.CLOSED) return;
      timer = window.setTimeout(open, retryAfter);
    };
    for (const name of names) {
      source.addEventListener(name, (event) => {
        heard(name, parsed((event as MessageEvent<string>).data));
      });
    }
  };
  open();
  return {
    close() {
      closed = true;
      source?.close();
      if (timer !== undefined) window.clearTimeout(timer);
    },
  };
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
