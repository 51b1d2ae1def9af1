// What every browser has and Debian 12's Node 18 does not give modules: its own Web Cryptography; and what modules of the
// pages ask of a browser as they are read: what it keeps, its screen, its address.
import { webcrypto } from 'node:crypto';

const give = (name: string, what: unknown) => {
  if (!(name in globalThis)) Object.defineProperty(globalThis, name, { value: what, configurable: true, writable: true });
};

function storage() {
  const kept = new Map<string, string>();
  return {
    getItem: (name: string) => kept.get(name) ?? null,
    setItem: (name: string, text: string) => void kept.set(name, String(text)),
    removeItem: (name: string) => void kept.delete(name),
  };
}

give('crypto', webcrypto);
give('localStorage', storage());
give('sessionStorage', storage());
give('location', { hash: '', origin: 'http://127.0.0.1' });
give('addEventListener', () => undefined);
give('matchMedia', () => ({ matches: false, addEventListener: () => undefined }));
give('document', { documentElement: { removeAttribute: () => undefined, setAttribute: () => undefined }, addEventListener: () => undefined, visibilityState: 'visible' });
