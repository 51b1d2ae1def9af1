// Chromium under the test's hand: started by us, so that it can also be killed by us.
import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';

// The packages live with the front end; this folder has none of its own.
const fromWeb = createRequire(new URL('../../web/package.json', import.meta.url));
const { chromium } = fromWeb('playwright-core');
export const axeSource = readFileSync(fromWeb.resolve('axe-core/axe.min.js'), 'utf8');

const binary = process.env.CHROMIUM ?? '/usr/bin/chromium';
const flags = [
  '--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking',
  '--disable-component-update', '--disable-sync', '--disable-dev-shm-usage', '--hide-scrollbars', '--remote-debugging-port=0',
];

// The root goes into the browser's own store, as a person puts it there: a page kept for later is not taken from a server
// whose certificate is merely ignored.
function trust(home, root) {
  const store = join(home, '.pki', 'nssdb');
  mkdirSync(store, { recursive: true });
  execFileSync('certutil', ['-d', `sql:${store}`, '-N', '--empty-password']);
  execFileSync('certutil', ['-d', `sql:${store}`, '-A', '-t', 'C,,', '-n', 'the shop', '-i', root]);
}

async function ended(child) {
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // gone already
  }
  await pause(1000);
}

const portFile = (dir) => join(dir, 'DevToolsActivePort');

function begun(dir, server) {
  rmSync(portFile(dir), { force: true });
  const found = server && server.way.host !== '127.0.0.1' ? [`--host-resolver-rules=MAP ${server.way.host} 127.0.0.2`] : [];
  return spawn(binary, [...flags, ...found, `--user-data-dir=${dir}`, 'about:blank'], { stdio: 'ignore', detached: true, env: { ...process.env, ...(server?.root ? { HOME: dir } : {}) } });
}

async function connected(dir) {
  const said = () => (existsSync(portFile(dir)) ? readFileSync(portFile(dir), 'utf8').split('\n') : []); // two lines: port, path
  for (let i = 0; i < 800 && said().length < 2; ++i) await pause(50);
  if (said().length < 2) throw new Error(`${binary} did not start`);
  return chromium.connectOverCDP(`http://127.0.0.1:${said()[0]}`, { timeout: 15_000 });
}

export class Browser {
  // With `dir` an earlier profile is opened again. `server`: whose name is to be found and whose root is to be trusted.
  static async start(dir = mkdtempSync(join(tmpdir(), 'seatwright-browser-')), server = undefined) {
    if (server?.root) trust(dir, server.root);
    // A browser that starts and then says nothing is put away and another one started.
    for (let tries = 3; ; --tries) {
      const child = begun(dir, server);
      try {
        const connection = await connected(dir);
        return Object.assign(new Browser(), { dir, child, connection, troubles: [], hosts: new Set(['127.0.0.1', '', server?.way.host]) });
      } catch (fault) {
        await ended(child);
        if (tries === 1) throw fault;
      }
    }
  }

  // A page of the given size; what it complains about is collected.
  async page(size = { width: 1440, height: 900 }, options = {}) {
    const context = options.fresh ? await this.connection.newContext({ viewport: size, ...options.context }) : this.connection.contexts()[0];
    const page = await context.newPage();
    await page.setViewportSize(size);
    page.setDefaultTimeout(40_000);
    page.on('pageerror', (error) => this.troubles.push(`page error: ${error.message}`));
    page.on('console', (message) => {
      // A browser says so of every page over plain http under a name.
      if (/Cross-Origin-Opener-Policy header has been ignored/.test(message.text())) return;
      if (message.type() === 'error' && !page.expectsNetworkErrors) this.troubles.push(`console: ${message.text()}`);
    });
    page.on('response', (response) => {
      if (response.status() >= 400 && !page.expectsNetworkErrors) this.troubles.push(`${response.status()} ${response.url()}`);
    });
    page.on('request', (request) => {
      const host = new URL(request.url()).hostname;
      if (!this.hosts.has(host)) this.troubles.push(`request to ${host}`);
    });
    return page;
  }

  // As when the plug is pulled: no goodbye to the page, none to the disk.
  async kill() {
    const gone = new Promise((resolve) => { this.child.once('exit', resolve); });
    if (this.group('SIGKILL') && this.child.exitCode === null && this.child.signalCode === null) await Promise.race([gone, pause(20_000)]);
    // Its helpers hold locks on the profile until they are gone too, which takes a while on a busy machine.
    for (let i = 0; i < 40 && this.group(0); ++i) await pause(50);
    // A connection to a browser that is gone may never say that it has closed.
    await Promise.race([this.connection.close().catch(() => undefined), pause(5000)]);
  }

  // Whether there was anybody of it to tell.
  group(signal) {
    try {
      return process.kill(-this.child.pid, signal);
    } catch {
      return false;
    }
  }

  async stop() {
    await this.kill();
    rmSync(this.dir, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}
