// What every browser has and Debian 12's Node 18 does not give modules: its own Web Cryptography.
import { webcrypto } from 'node:crypto';

if (!('crypto' in globalThis)) Object.defineProperty(globalThis, 'crypto', { value: webcrypto });
