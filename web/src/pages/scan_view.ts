// Points of a scan and what was found in them, to be turned about by hand: plain WebGL, seen in parallel, lit by nothing. What a
// point lies on is said by its ink; the chosen feature's are the darkest.

import type { Scan, ScanWall } from '../api/types';

const pointProgram = `
attribute vec3 place; attribute vec2 on; uniform mat4 view; uniform float step, size, chosen; uniform vec4 plain, touch, faint; varying vec4 ink;
void main() {
  gl_Position = view * vec4(place * step, 1.0);
  float key = on.x + 8.0 * on.y;
  float is = on.x < 1.5 ? 0.0 : 1.0;
  bool mine = key == chosen || key == chosen + 1.0 && mod(chosen, 8.0) == 2.0;
  ink = mine ? touch : mix(faint, plain, is);
  gl_PointSize = size * (mine ? 2.0 : is > 0.5 ? 1.4 : 1.0);
}`;
const pointInk = 'precision mediump float; varying vec4 ink; void main() { gl_FragColor = ink; }';
const lineProgram = 'attribute vec3 place; uniform mat4 view; void main() { gl_Position = view * vec4(place, 1.0); }';
const lineInk = 'precision mediump float; uniform vec4 ink; void main() { gl_FragColor = ink; }';

const round = 32; // corners of a circle
type V3 = [number, number, number];
const add = (a: V3, b: V3, t = 1): V3 => [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]];
const cross = (a: V3, b: V3): V3 => [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
const unit = (a: V3): V3 => { const n = Math.hypot(...a) || 1; return [a[0] / n, a[1] / n, a[2] / n]; };

// Pairs of places: a circle at either end of the wall, its axis between.
function linesOf(wall: ScanWall, gauge: { at: V3; radius: number } | null): number[] {
  const low = wall.low_mm as V3, high = wall.high_mm as V3;
  const axis = unit(add(high, low, -1));
  const u = unit(cross(axis, Math.abs(axis[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0])), v = cross(axis, u);
  const out: number[] = [...low, ...high];
  const circle = (at: V3, radius: number) => {
    for (let k = 0; k < round; ++k)
      for (const turn of [k, k + 1]) {
        const a = (2 * Math.PI * turn) / round;
        out.push(...add(add(at, u, radius * Math.cos(a)), v, radius * Math.sin(a)));
      }
  };
  circle(low, wall.radius_mm);
  circle(high, wall.radius_mm);
  if (gauge) {
    circle(gauge.at, gauge.radius);
    out.push(...high, ...gauge.at);
  }
  return out;
}

interface Feature { id: string; key: number; middle: V3; lines: WebGLBuffer; count: number }

export class ScanScene {
  private turn = { about: 0, up: 0.9 }; // rad: 0.9 looks down on the deck from the front
  private near = 1;
  private shift: [number, number] = [0, 0];
  private middle: V3 = [0, 0, 0];
  private half = 100;
  private asked = 0;
  private readonly points: WebGLProgram;
  private readonly lines: WebGLProgram;
  private readonly cloud: WebGLBuffer;
  private readonly features: Feature[] = [];
  chosen: string | null = null;
  dropped = new Set<string>();

  // None: this browser shows no WebGL.
  static on(canvas: HTMLCanvasElement, scan: Scan, bytes: ArrayBuffer): ScanScene | null {
    const gl = canvas.getContext('webgl', { antialias: true, alpha: true });
    return gl ? new ScanScene(canvas, gl, scan, bytes) : null;
  }

  private constructor(private readonly canvas: HTMLCanvasElement, private readonly gl: WebGLRenderingContext, private readonly scan: Scan, bytes: ArrayBuffer) {
    this.points = this.program(pointProgram, pointInk);
    this.lines = this.program(lineProgram, lineInk);
    this.cloud = this.buffer(bytes);
    this.measure(bytes);
    const found = scan.found;
    scan.walls?.valves.forEach((wall, i) => {
      const v = found?.valves[i];
      const gauge = v?.gauge_mm && v.z_mm !== null ? { at: [v.x_mm, v.y_mm, v.z_mm] as V3, radius: v.gauge_mm / 2 } : null;
      this.feature(wall, 2 + 8 * i, gauge);
    });
    scan.walls?.holes.forEach((wall, i) => this.feature(wall, 4 + 8 * i, null));
    this.listen();
    this.draw();
  }

  // Turned to a look a person knows.
  look(from: 'above' | 'front' | 'end'): void {
    this.turn = { above: { about: 0, up: Math.PI / 2 }, front: { about: 0, up: 0 }, end: { about: Math.PI / 2, up: 0 } }[from];
    this.shift = [0, 0];
    this.near = 1;
    this.draw();
  }

  nearer(times: number): void {
    this.near = Math.min(60, Math.max(0.5, this.near * times));
    this.draw();
  }

  // The feature chosen comes to the middle.
  goTo(id: string | null): void {
    this.chosen = id;
    const one = this.features.find((f) => f.id === id);
    if (one) {
      const [x, y] = this.flat(one.middle);
      this.shift = [-x, -y];
      this.near = Math.max(this.near, 4);
    }
    this.draw();
  }

  draw(): void {
    cancelAnimationFrame(this.asked);
    this.asked = requestAnimationFrame(() => this.drawNow());
  }

  stop(): void {
    cancelAnimationFrame(this.asked);
    this.gl.getExtension('WEBGL_lose_context')?.loseContext();
  }

  onPick: (id: string) => void = () => undefined;

  private program(vertex: string, fragment: string): WebGLProgram {
    const { gl } = this;
    const program = gl.createProgram();
    for (const [kind, text] of [[gl.VERTEX_SHADER, vertex], [gl.FRAGMENT_SHADER, fragment]] as const) {
      const shader = gl.createShader(kind)!;
      gl.shaderSource(shader, text);
      gl.compileShader(shader);
      gl.attachShader(program, shader);
    }
    gl.linkProgram(program);
    if (!gl.getProgramParameter(program, gl.LINK_STATUS) && !gl.isContextLost()) throw new Error(gl.getProgramInfoLog(program) ?? 'The view cannot be drawn.');
    return program;
  }

  private buffer(data: ArrayBuffer | Float32Array): WebGLBuffer {
    const { gl } = this;
    const buffer = gl.createBuffer();
    gl.bindBuffer(gl.ARRAY_BUFFER, buffer);
    gl.bufferData(gl.ARRAY_BUFFER, data, gl.STATIC_DRAW);
    return buffer;
  }

  // The middle and the half size of what lies on the deck or on a feature.
  private measure(bytes: ArrayBuffer): void {
    const at = new DataView(bytes), step = this.scan.points?.step_mm ?? 1;
    const low = [1e9, 1e9, 1e9], high = [-1e9, -1e9, -1e9];
    for (let i = 0; i + 8 <= bytes.byteLength; i += 8) {
      if (at.getUint8(i + 6) === 0) continue;
      for (let k = 0; k < 3; ++k) {
        const v = at.getInt16(i + 2 * k, true) * step;
        low[k] = Math.min(low[k]!, v);
        high[k] = Math.max(high[k]!, v);
      }
    }
    if (low[0]! > high[0]!) return;
    this.middle = [0, 1, 2].map((k) => (low[k]! + high[k]!) / 2) as V3;
    this.half = Math.max(...[0, 1, 2].map((k) => (high[k]! - low[k]!) / 2), 1);
  }

  private feature(wall: ScanWall, key: number, gauge: { at: V3; radius: number } | null): void {
    const lines = linesOf(wall, gauge);
    const middle = gauge?.at ?? (wall.high_mm as V3);
    this.features.push({ id: wall.id, key, middle, lines: this.buffer(new Float32Array(lines)), count: lines.length / 3 });
  }

  // Right, up and towards the eye.
  private axes(): [V3, V3, V3] {
    const { about, up } = this.turn;
    const c = Math.cos(about), s = Math.sin(about), cu = Math.cos(up), su = Math.sin(up);
    return [[c, s, 0], [-s * su, c * su, cu], [s * cu, -c * cu, su]];
  }

  // In halves of the view's width, before it is shifted and brought nearer.
  private flat(p: V3): [number, number] {
    const [right, up] = this.axes();
    const d = add(p, this.middle, -1);
    const dot = (a: V3) => (a[0] * d[0] + a[1] * d[1] + a[2] * d[2]) / this.half;
    return [dot(right), dot(up)];
  }

  private matrix(): Float32Array {
    const { width, height } = this.canvas;
    const fit = [1, width / height].map((side) => 0.95 * this.near * side); // the longest side fills the width
    const [right, up, eye] = this.axes();
    const rows = [right, up, eye].map((a, k) => {
      const scale = k < 2 ? fit[k]! / this.half : -1 / (4 * this.half);
      const off = k < 2 ? this.shift[k as 0 | 1] * fit[k]! : 0;
      const d = a[0] * this.middle[0] + a[1] * this.middle[1] + a[2] * this.middle[2];
      return [a[0] * scale, a[1] * scale, a[2] * scale, off - d * scale];
    });
    const m = new Float32Array(16);
    rows.forEach((row, r) => row.forEach((v, c) => { m[4 * c + r] = v; }));
    m[15] = 1;
    return m;
  }

  private ink(name: string): Float32Array {
    // light-dark() is settled only where a colour is used.
    this.canvas.style.color = `var(--${name})`;
    const found = /(\d+)\D+(\d+)\D+(\d+)/.exec(getComputedStyle(this.canvas).color);
    return new Float32Array([1, 2, 3].map((k) => Number(found?.[k] ?? 0) / 255).concat(1));
  }

  private drawNow(): void {
    const { gl, canvas } = this;
    const sharp = Math.min(devicePixelRatio, 2);
    const width = Math.round(canvas.clientWidth * sharp), height = Math.round(canvas.clientHeight * sharp);
    if (width === 0 || height === 0) return;
    if (canvas.width !== width || canvas.height !== height) Object.assign(canvas, { width, height });
    gl.viewport(0, 0, width, height);
    gl.clearColor(0, 0, 0, 0);
    gl.clear(gl.COLOR_BUFFER_BIT | gl.DEPTH_BUFFER_BIT);
    gl.enable(gl.DEPTH_TEST);
    const view = this.matrix();
    const mine = this.features.find((f) => f.id === this.chosen);
    this.drawPoints(view, sharp, mine?.key ?? -1);
    gl.disable(gl.DEPTH_TEST); // what was found is seen through the points
    gl.useProgram(this.lines);
    gl.uniformMatrix4fv(gl.getUniformLocation(this.lines, 'view'), false, view);
    const inks = { plain: this.ink('touch'), mine: this.ink('warn'), dropped: this.ink('faint') };
    const place = gl.getAttribLocation(this.lines, 'place');
    gl.enableVertexAttribArray(place);
    for (const f of this.features) {
      gl.bindBuffer(gl.ARRAY_BUFFER, f.lines);
      gl.vertexAttribPointer(place, 3, gl.FLOAT, false, 0, 0);
      gl.uniform4fv(gl.getUniformLocation(this.lines, 'ink'), this.dropped.has(f.id) ? inks.dropped : f === mine ? inks.mine : inks.plain);
      gl.drawArrays(gl.LINES, 0, f.count);
    }
  }

  private drawPoints(view: Float32Array, sharp: number, chosen: number): void {
    const { gl, points } = this;
    gl.useProgram(points);
    const at = (name: string) => gl.getUniformLocation(points, name);
    gl.uniformMatrix4fv(at('view'), false, view);
    gl.uniform1f(at('step'), this.scan.points?.step_mm ?? 1);
    gl.uniform1f(at('size'), sharp * Math.min(3, 0.8 * Math.sqrt(this.near)));
    gl.uniform1f(at('chosen'), chosen);
    gl.uniform4fv(at('plain'), this.ink('line'));
    gl.uniform4fv(at('faint'), this.ink('faint'));
    gl.uniform4fv(at('touch'), this.ink('touch'));
    gl.bindBuffer(gl.ARRAY_BUFFER, this.cloud);
    const place = gl.getAttribLocation(points, 'place'), on = gl.getAttribLocation(points, 'on');
    gl.enableVertexAttribArray(place);
    gl.enableVertexAttribArray(on);
    gl.vertexAttribPointer(place, 3, gl.SHORT, false, 8, 0);
    gl.vertexAttribPointer(on, 2, gl.UNSIGNED_BYTE, false, 8, 6);
    gl.drawArrays(gl.POINTS, 0, this.scan.points?.count ?? 0);
    gl.disableVertexAttribArray(on);
  }

  // One finger turns, two move and bring nearer; a tap chooses what stands nearest.
  private listen(): void {
    const fingers = new Map<number, PointerEvent>();
    let moved = 0;
    this.canvas.addEventListener('pointerdown', (e) => {
      fingers.set(e.pointerId, e);
      this.canvas.setPointerCapture(e.pointerId);
      if (fingers.size === 1) moved = 0;
    });
    this.canvas.addEventListener('pointermove', (e) => {
      const before = fingers.get(e.pointerId);
      if (!before) return;
      const dx = e.clientX - before.clientX, dy = e.clientY - before.clientY;
      moved += Math.abs(dx) + Math.abs(dy);
      const side = this.canvas.clientWidth / 2;
      if (fingers.size === 1 && !e.shiftKey) this.turnBy(-dx / side, dy / side);
      else {
        const other = [...fingers.values()].find((f) => f.pointerId !== e.pointerId);
        if (other) this.near *= Math.hypot(e.clientX - other.clientX, e.clientY - other.clientY) / Math.max(1, Math.hypot(before.clientX - other.clientX, before.clientY - other.clientY));
        const share = 1 / Math.max(1, fingers.size) / side / this.near / 0.95;
        this.shift = [this.shift[0] + dx * share, this.shift[1] - dy * share];
        this.nearer(1);
      }
      fingers.set(e.pointerId, e);
    });
    const up = (e: PointerEvent) => {
      if (fingers.delete(e.pointerId) && fingers.size === 0 && moved < 8 && e.type === 'pointerup') this.pick(e);
    };
    this.canvas.addEventListener('pointerup', up);
    this.canvas.addEventListener('pointercancel', up);
    this.canvas.addEventListener('wheel', (e) => { e.preventDefault(); this.nearer(Math.exp(-e.deltaY / 500)); }, { passive: false });
    this.canvas.addEventListener('keydown', (e) => {
      const by = { ArrowLeft: [0.12, 0], ArrowRight: [-0.12, 0], ArrowUp: [0, 0.12], ArrowDown: [0, -0.12] }[e.key];
      if (e.key === '+' || e.key === '-') this.nearer(e.key === '+' ? 1.25 : 0.8);
      else if (!by) return;
      else this.turnBy(by[0]!, by[1]!);
      e.preventDefault();
    });
  }

  private turnBy(about: number, up: number): void {
    this.turn = { about: this.turn.about + about, up: Math.min(Math.PI / 2, Math.max(-Math.PI / 2, this.turn.up + up)) };
    this.draw();
  }

  private pick(e: PointerEvent): void {
    const box = this.canvas.getBoundingClientRect();
    const view = this.matrix();
    let best = 44, id: string | null = null; // pixels: a finger's breadth
    for (const f of this.features) {
      const [x, y] = [0, 1].map((r) => view[r]! * f.middle[0] + view[4 + r]! * f.middle[1] + view[8 + r]! * f.middle[2] + view[12 + r]!);
      const off = Math.hypot((x! + 1) / 2 * box.width + box.left - e.clientX, (1 - y!) / 2 * box.height + box.top - e.clientY);
      if (off < best) {
        best = off;
        id = f.id;
      }
    }
    if (id !== null) this.onPick(id);
  }
}
