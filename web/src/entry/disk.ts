// Waiting entries in IndexedDB. `durability: strict` asks the browser to have the bytes on disk before the
// transaction completes, so that an entry shown as waiting outlives a killed browser.

import type { Waiting, WaitingStore } from './waiting';

const databaseName = 'seatwright';
const entries = 'entries';
const pages = 'pages';

let opening: Promise<IDBDatabase> | undefined;

function database(): Promise<IDBDatabase> {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open(databaseName, 1);
    request.onupgradeneeded = () => {
      const store = request.result.createObjectStore(entries, { keyPath: 'order', autoIncrement: true });
      store.createIndex('key', 'key', { unique: true });
      request.result.createObjectStore(pages);
    };
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the browser gave no reason'));
  });
  return opening;
}

async function write<T>(store: string, act: (s: IDBObjectStore) => IDBRequest<T> | undefined): Promise<T | undefined> {
  const db = await database();
  return new Promise((resolve, reject) => {
    const transaction = db.transaction(store, 'readwrite', { durability: 'strict' });
    const request = act(transaction.objectStore(store));
    transaction.oncomplete = () => resolve(request?.result);
    transaction.onerror = () => reject(transaction.error ?? new Error('the browser could not store the entry'));
    transaction.onabort = transaction.onerror;
  });
}

async function read<T>(store: string, act: (s: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const db = await database();
  return new Promise((resolve, reject) => {
    const request = act(db.transaction(store, 'readonly').objectStore(store));
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error('the browser could not read its store'));
  });
}

export const disk: WaitingStore = {
  async add(entry) {
    const order = await write<IDBValidKey>(entries, (s) => s.add(entry));
    return { ...entry, order: Number(order) };
  },
  all: () => read<Waiting[]>(entries, (s) => s.getAll()),
  async replace(entry) {
    await write(entries, (s) => s.put(entry));
  },
  async remove(key) {
    const found = await read<Waiting | undefined>(entries, (s) => s.index('key').get(key));
    if (found?.order === undefined) return;
    const { order } = found;
    await write(entries, (s) => s.delete(order));
  },
};

// The last answer of the server for an address, so that a job can be looked at while the network is away. Copying the
// megabytes of a large job holds the page up: it is done once what came has been drawn, and once for many answers.
const toKeep = new Map<string, unknown>();
const latest = 500; // ms
const idle: (act: () => void) => void = typeof requestIdleCallback === 'function' ? (act) => requestIdleCallback(act, { timeout: latest }) : (act) => setTimeout(act, 0);

export function keepAnswer(address: string, answer: unknown): void {
  if (toKeep.size === 0) idle(() => void keepNow());
  toKeep.set(address, answer);
}
// At once: the page may be about to go.
export async function keepNow(): Promise<void> {
  const all = [...toKeep];
  toKeep.clear();
  if (all.length > 0) await write(pages, (s) => all.map(([address, answer]) => s.put(answer, address)).at(-1)).catch(() => undefined);
}

export async function keptAnswer<T>(address: string): Promise<T | undefined> {
  if (toKeep.has(address)) return toKeep.get(address) as T;
  return read<T | undefined>(pages, (s) => s.get(address) as IDBRequest<T | undefined>).catch(() => undefined);
}
// Somebody signs out: what was shown to them does not stay on the device.
export async function forgetAnswers(): Promise<void> {
  toKeep.clear();
  await write(pages, (s) => s.clear()).catch(() => undefined);
}
