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

const freePort = () => new Promise((resolve) => {
  const probe = createServer().listen(0, '127.0.0.1', () => {
    const { port } = probe.address();
    probe.close(() => resolve(port));
  });
});

export class Server {
  static async start() {
    const server = new Server();
    server.dir = mkdtempSync(join(tmpdir(), 'seatwright-data-'));
    server.port = await freePort();
    server.base = `http://127.0.0.1:${server.port}`;
    await server.up();
    return server;
  }

  async up() {
    if (!mock && !existsSync(binary)) throw new Error(`${binary} is not built`);
    const [command, ...args] = mock
      ? [process.execPath, join(root, 'web/mock/server.mjs'), String(this.port)]
      : [binary, 'serve', '--data', this.dir, '--port', String(this.port)];
    this.said = '';
    this.child = spawn(command, args, { stdio: ['ignore', 'pipe', 'pipe'] });
    for (const stream of [this.child.stdout, this.child.stderr]) stream.on('data', (text) => { this.said += text; });
    for (let i = 0; i < 600; ++i) {
      if (this.child.exitCode !== null) break;
      const answer = await fetch(`${this.base}/api/session`).catch(() => null);
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
