// An entry that the person has made and the server has not yet acknowledged.

export type WaitingState =
  | 'waiting' // to be sent, in order
  | 'refused' // the server said no, with a sentence; the person corrects or lets go
  | 'differs'; // another value stands at that place; both are kept and the person chooses

export interface Waiting {
  order?: number; // given by the store, ascending in the order made
  key: string; // client key: a retry with the same key is the same entry
  job: string;
  method: 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  path: string; // under /api
  body: Record<string, unknown>;
  words: string; // "touch 2I: X 1.2345 in, Y 0.0012 in", for the list of what waits
  place: string; // what it is about, such as "touch/1/2I": a later entry for it may be shown over it
  madeAt: string; // ISO time on this device
  by?: { id: number; name: string }; // who made it: sent under that name alone (an earlier visit may have left it out)
  state: WaitingState;
  sentence?: string;
  theirs?: unknown; // the value found in its place
}

// Where waiting entries are kept: IndexedDB in the browser, an array in tests.
export interface WaitingStore {
  add(entry: Waiting): Promise<Waiting>; // resolves once the entry is on disk
  all(): Promise<Waiting[]>; // in the order made
  replace(entry: Waiting): Promise<void>;
  remove(key: string): Promise<void>;
}

// A key no other entry has. randomUUID needs a secure context, which a shop's plain network address is not.
export function newKey(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, '0')).join('');
}
