// The real binary on a port and a folder of its own; stopped and started again as a test needs.
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { setTimeout as pause } from 'node:timers/promises';

const root = fileURLToPath(new URL('../../', import.meta.url));
const binary = process.env.SEATWRIGHT ?? join(root, 'build/release/seatwright');
const mock = process.argv.includes('--mock'); // the pages alone, against web/mock

// How the pages are reached. A name that is not this machine's own needs https for what browsers keep back: pages kept for
// later, random names. 127.0.0.2 is this machine all the same, and not what the workbench takes for itself alone.
export const ways = {
  localhost: { host: '127.0.0.1', scheme: 'http', options: [] },
  https: { host: 'shop.test', scheme: 'https', options: ['--listen', '127.0.0.2', '--name', 'shop.test', '--trust-port', '0'] },
  http: { host: 'shop.test', scheme: 'http', options: ['--listen', '127.0.0.2', '--unencrypted'] },
};

export const freePort = () => new Promise((resolve) => {
  const probe = createServer().listen(0, '127.0.0.1', () => {
    const { port } = probe.address();
    probe.close(() => resolve(port));
  });
});

export class Server {
  // `owner`: made first where the network is let in, which asks for an account.
  static async start(way = 'localhost', owner = undefined) {
    const server = new Server();
    server.dir = mkdtempSync(join(tmpdir(), 'seatwright-data-'));
    server.port = await freePort();
    if (way !== 'localhost') await server.madeBy(owner);
    server.way = ways[way];
    server.base = `${server.way.scheme}://${server.way.host}:${server.port}`;
    await server.up();
    return server;
  }

  async madeBy(owner) {
    this.way = ways.localhost;
    this.base = `http://127.0.0.1:${this.port}`;
    await this.up();
    const answer = await fetch(`${this.base}/api/owner`, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(owner) });
    if (!answer.ok) throw new Error(`no owner: ${await answer.text()}`);
    await this.down();
  }

  // The root certificate of an https server, for a browser to trust.
  get root() {
    return this.way.scheme === 'https' ? join(this.dir, 'tls', 'root.pem') : undefined;
  }

  async up() {
    if (!mock && !existsSync(binary)) throw new Error(`${binary} is not built`);
    const [command, ...args] = mock
      ? [process.execPath, join(root, 'web/mock/server.mjs'), String(this.port)]
      : [binary, 'serve', '--data', this.dir, '--port', String(this.port), ...this.way.options];
    this.said = '';
    this.child = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [this.child.stdout, this.child.stderr]) stream.on('data', (text) => { this.said += text; });
    for (let i = 0; i < 600; ++i) {
      if (this.child.exitCode !== null) break;
      if (this.way !== ways.localhost && this.said.includes('Stop with')) return; // no name this process could look up
      const answer = this.way === ways.localhost ? await fetch(`${this.base}/api/session`).catch(() => null) : null;
      if (answer?.ok) return;
      await pause(50);
    }
    throw new Error(`the server did not start: ${this.said}`);
  }

  // Pulled from the wall.
  async down() {
    const gone = new Promise((resolve) => this.child.once('exit', resolve));
    this.child.kill('SIGKILL');
    await gone;
  }

  async stop() {
    if (this.child.exitCode === null && this.child.signalCode === null) await this.down();
    rmSync(this.dir, { recursive: true, force: true });
  }
}
