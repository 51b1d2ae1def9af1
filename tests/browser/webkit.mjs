// WebKit under the test's hand, by the W3C WebDriver protocol: Debian's driver on a screen nobody sees. All it keeps is in a
// folder of its own, downloads too; what was started is ended by its process id.
import { spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { freePort } from './server.mjs';

// An element on the wire, and a key that is no letter (W3C WebDriver).
const element = 'element-6066-11e4-a52e-4f735466cecf';
const named = { Enter: '\uE007' };
const patience = Number(process.env.PATIENCE ?? 40_000); // ms

// What the page draws anew meanwhile is looked for again.
function drawnAnew(fault) {
  if (!/^stale element/.test(fault.message)) throw fault;
}

export class WebKit {
  // `size`: of the window. `server`: whose name is to be found and whose root is to be trusted.
  static async start(size, server) {
    const webkit = new WebKit();
    webkit.dir = mkdtempSync(join(tmpdir(), 'seatwright-webkit-'));
    webkit.downloads = join(webkit.dir, 'taken');
    for (const folder of ['taken', 'run', '.config']) mkdirSync(join(webkit.dir, folder), { mode: 0o700 });
    writeFileSync(join(webkit.dir, '.config', 'user-dirs.dirs'), 'XDG_DOWNLOAD_DIR="$HOME/taken"\n');
    Object.assign(webkit, { children: [], said: '', heard: [] });
    try {
      await webkit.begin(size, server);
      return webkit;
    } catch (fault) {
      await webkit.stop();
      throw fault;
    }
  }

  async begin(size, server) {
    const screen = this.begun('Xvfb', ['-displayfd', '3', '-screen', '0', '1600x1600x24', '-nolisten', 'tcp'], process.env);
    const display = await new Promise((resolve, reject) => {
      screen.stdio[3].once('data', (text) => resolve(String(text).trim()));
      for (const event of ['error', 'exit']) screen.once(event, () => reject(new Error(`no screen: ${this.said}`)));
    });
    const port = await freePort();
    this.driver = `http://127.0.0.1:${port}`;
    const { DBUS_SESSION_BUS_ADDRESS: _, WAYLAND_DISPLAY: __, ...env } = process.env;
    this.begun(...this.among(server, 'WebKitWebDriver', '--host=127.0.0.1', `--port=${port}`), { ...env, DISPLAY: `:${display}`, GDK_BACKEND: 'x11', HOME: this.dir,
      XDG_CONFIG_HOME: join(this.dir, '.config'), XDG_RUNTIME_DIR: join(this.dir, 'run'), NO_AT_BRIDGE: '1', LIBGL_ALWAYS_SOFTWARE: '1' });
    for (let i = 0; i < 200; ++i) {
      if (await fetch(`${this.driver}/status`).then((r) => r.ok).catch(() => false)) break;
      await pause(50);
    }
    const { sessionId, capabilities } = await this.call('POST', '/session', { capabilities: { alwaysMatch: {} } });
    this.session = `/session/${sessionId}`;
    this.version = capabilities.browserVersion;
    await this.call('POST', `${this.session}/window/rect`, size);
  }

  // The command, for a server under a name: WebKit asks the machine for names and for whom it trusts, so its own
  // processes see files of the machine's that have one line and one root more.
  among(server, command, ...args) {
    if (!server?.root) return [command, args];
    const own = (path, text) => {
      const file = join(this.dir, path.replaceAll('/', '-'));
      writeFileSync(file, `${readFileSync(path, 'utf8')}\n${text}`);
      return ['--ro-bind', file, path];
    };
    return ['bwrap', ['--die-with-parent', '--dev-bind', '/', '/', ...own('/etc/hosts', `127.0.0.2 ${server.way.host}\n`),
      ...own('/etc/ssl/certs/ca-certificates.crt', readFileSync(server.root, 'utf8')), command, ...args]];
  }

  begun(command, args, env) {
    const child = spawn(command, args, { stdio: ['ignore', 'ignore', 'pipe', 'pipe'], detached: true, env });
    child.on('error', (fault) => { this.said += `${fault.message}\n`; });
    child.stderr?.on('data', (text) => { this.said += text; });
    this.children.push(child);
    return child;
  }

  async call(method, path, body = undefined) {
    const answer = await fetch(this.driver + path, { method, body: method === 'POST' ? JSON.stringify(body ?? {}) : undefined });
    const { value } = await answer.json();
    if (!answer.ok) throw new Error(`${value.error}: ${value.message}`);
    return value;
  }

  async goto(url) {
    await this.hear();
    await this.call('POST', `${this.session}/url`, { url });
    await this.hear();
  }

  async reload() {
    await this.hear();
    await this.call('POST', `${this.session}/refresh`);
    await this.hear();
  }

  // Faults of the page since it was loaded, as `heard` has them. The browser's own words about a server that is away are not
  // among them, nor that a box which was measured and then grew is told again in the next frame.
  async hear() {
    this.heard = [...this.heard, ...await this.evaluate(() => {
      if (globalThis.faults) return globalThis.faults.splice(0);
      const faults = globalThis.faults = [];
      addEventListener('error', ({ message }) => { if (!message.startsWith('ResizeObserver loop')) faults.push(`page error: ${message}`); });
      addEventListener('unhandledrejection', (event) => faults.push(`page error: ${event.reason}`));
      const said = console.error;
      console.error = (...words) => { faults.push(`console: ${words.join(' ')}`); said(...words); };
      return [];
    })];
    return this.heard;
  }

  // What `work` gives in the page; it may be a promise. Arguments and result are JSON.
  async evaluate(work, ...args) {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve((${work})(...[...arguments].slice(0, -1))).then((given) => done({ given }), (fault) => done({ fault: String(fault) }));`;
    const { given, fault } = await this.call('POST', `${this.session}/execute/async`, { script, args });
    if (fault) throw new Error(`in the page: ${fault}`);
    return given;
  }

  // The first that is seen of what the selector (or, with //, the path) finds, whose words contain `words`; waited for.
  async seen(selector, words = '') {
    const [using, value] = selector.startsWith('//') ? ['xpath', selector] : ['css selector', selector];
    const script = 'const [words, ...all] = arguments; return all.find((e) => (e.localName === "option" || e.checkVisibility()) && e.innerText.includes(words)) ?? null';
    for (const end = Date.now() + patience; ; await pause(40)) {
      const all = await this.call('POST', `${this.session}/elements`, { using, value });
      const found = await this.call('POST', `${this.session}/execute/sync`, { script, args: [words, ...all] }).catch(drawnAnew);
      if (found) return found[element];
      if (Date.now() > end) throw new Error(`not within ${patience} ms: ${selector} "${words}"`);
    }
  }

  // Asks the driver for something of that element.
  async of(selector, words, method, what, body) {
    for (;;) {
      const answer = await this.call(method, `${this.session}/element/${await this.seen(selector, words)}/${what}`, body).then((value) => ({ value }), drawnAnew);
      if (answer) return answer.value;
    }
  }

  text(selector) {
    return this.of(selector, '', 'GET', 'text');
  }

  click(selector, words = '') {
    return this.of(selector, words, 'POST', 'click');
  }

  // Typed into that field by the keyboard, in place of what stood there.
  async type(selector, text, ...keys) {
    await this.of(selector, '', 'POST', 'clear');
    await this.of(selector, '', 'POST', 'value', { text: text + keys.map((k) => named[k]).join('') });
  }

  async picture(file) {
    writeFileSync(file, Buffer.from(await this.call('GET', `${this.session}/screenshot`), 'base64'));
  }

  async stop() {
    if (this.session) await Promise.race([this.call('DELETE', this.session).catch(() => undefined), pause(5_000)]);
    for (const child of this.children.reverse()) {
      try {
        process.kill(-child.pid, 'SIGKILL');
      } catch {
        // gone already
      }
    }
    rmSync(this.dir, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  }
}
