// The walk of one head at the machine, as a list: load, touch, and for each cutter its first file, Z0, the first seat's
// reading, its second file, cut; then the next setup; measured; finished. Steps that do not apply are not there. What a
// person must say is done only when it was said (an entry of the job, so that every screen stands at the same step); what
// a reading says is done with the reading.

import type { CutProgram, CutResult, Setup } from '../api/types';

export type StepKind = 'load' | 'touch' | 'held' | 'take' | 'zero' | 'first' | 'cut' | 'measure' | 'finished';

export interface Step {
  id: string; // "take A 1 first": what is said of it is stored under this name
  kind: StepKind;
  words: string; // the sentence
  mark: string; // in one or two words, for the strip
  setup: string;
  done: boolean;
  begins?: boolean; // the first step of a cutter or a setup
  program?: CutProgram;
  valve?: string; // of a first seat
  said?: string[]; // how Z0 is taken
  on?: string; // and on which seat
}

export interface WalkKnown {
  head: string;
  setups: Setup[];
  touched: (setup: string) => boolean; // at least one guide of it
  wantsTouch: (setup: string) => boolean;
  cut: CutResult | null | undefined;
  said: Set<string>; // ids of steps said to be done
  firsts: Set<string>; // valves whose first seat was read
  measured: Set<string>;
  valves: string[];
  atControl: boolean; // Z0 is moved by hand after the first seat: one file a cutter
}

export function walkOf(known: WalkKnown): { steps: Step[]; at: number } {
  const steps: Step[] = [];
  known.setups.forEach((setup, i) => steps.push(...ofSetup(known, setup, i)));
  const left = known.valves.filter((v) => !known.measured.has(v));
  const cutAll = steps.every((s) => s.done);
  steps.push({ id: 'measure', kind: 'measure', words: left.length > 0 ? `Measure ${left[0]}.` : 'Every seat is measured.', mark: 'measure', setup: '', done: left.length === 0 && cutAll });
  steps.push({ id: 'finished', kind: 'finished', words: `Head ${known.head} is finished.`, mark: 'finished', setup: '', done: false });
  const at = steps.findIndex((s) => !s.done);
  return { steps, at: at < 0 ? steps.length - 1 : at };
}

function ofSetup(known: WalkKnown, setup: Setup, i: number): Step[] {
  const { head, said } = known;
  const s = setup.id;
  const several = known.setups.length > 1;
  const turn = `tilt ${angle(setup.tilt_deg)}${Math.abs(setup.swing_deg) > 0.005 ? `, swing ${angle(setup.swing_deg)}` : ''}`;
  const loading = i === 0 ? `Load head ${head} and set ${several ? `setup ${s}: ` : ''}${turn}.` : `Setup ${known.setups[i - 1]?.id ?? ''} is done. Turn to setup ${s}: ${turn}.`;
  const step = (id: string, kind: StepKind, words: string, mark: string, done: boolean, more: Partial<Step> = {}): Step => ({ id, kind, words, mark, setup: s, done: done || said.has(id), ...more });
  const seats = setup.valves.map((v) => v.id);
  const all = seats.every((v) => known.measured.has(v));
  const steps = [
    step(`load ${s}`, 'load', loading, several ? `load ${s}` : 'load', all || known.touched(s), { begins: true }),
    step(`touch ${s}`, 'touch', `Touch the guides of setup ${s}.`, 'touch', all || (known.touched(s) && !known.wantsTouch(s))),
  ];
  const programs = known.cut?.programs.filter((p) => p.setup === s) ?? [];
  const cutters = cuttersOf(programs, said, s);
  if (cutters.length === 0 && !all) return [...steps, step(`held ${s}`, 'held', `No file of setup ${s} can be written yet.`, 'held back', false)];
  for (const c of cutters) steps.push(...ofCutter(known, s, c, programs.filter((p) => numberOf(p) === c), step));
  return steps;
}

const numberOf = (p: CutProgram) => (p.cutter === null ? 'all' : String(p.cutter));

// The cutters of a setup in the order of their files; one whose files are gone since its seats are measured stays by what was said.
function cuttersOf(programs: CutProgram[], said: Set<string>, setup: string): string[] {
  const gone = [...said].flatMap((id) => { const m = /^cut (\S+) (\S+)$/.exec(id); return m?.[1] === setup && m[2] ? [m[2]] : []; });
  return [...new Set([...gone.filter((c) => !programs.some((p) => numberOf(p) === c)), ...programs.map(numberOf)])];
}

type Make = (id: string, kind: StepKind, words: string, mark: string, done: boolean, more?: Partial<Step>) => Step;

function ofCutter(known: WalkKnown, s: string, c: string, programs: CutProgram[], step: Make): Step[] {
  const name = c === 'all' ? 'the cutters' : `cutter ${c}`;
  const begin = { begins: true };
  const mark = c === 'all' ? 'file' : `cutter ${c}`;
  const first = programs.find((p) => p.first), rest = programs.find((p) => !p.first);
  const over = known.said.has(`cut ${s} ${c}`) || (programs.length > 0 && programs.every((p) => p.seats.every((v) => known.measured.has(v))));
  const read = (p: CutProgram | undefined) => p?.seats.filter((v) => !known.firsts.has(v)) ?? [];
  const of = first ?? rest;
  const zero = of ? (of.zero ? [of.zero] : of.zeros ?? []).map((z) => z.words) : [];
  const two = first !== undefined || known.said.has(`take ${s} ${c} first`) || (known.firsts.size > 0 && !!rest?.seats.some((v) => known.firsts.has(v)));
  const where = `head ${known.head}${known.setups.length > 1 ? `, setup ${s}` : ''}`;
  const zeroStep = step(`zero ${s} ${c}`, 'zero', `Z0 of ${name}: is it taken?`, 'Z0', over || (two && !first), { said: zero, ...(of?.zero?.valve ? { on: of.zero.valve } : {}) });
  if (!two && !known.atControl) {
    return [
      step(`take ${s} ${c}`, 'take', `Take the file of ${name}, ${where}.`, mark, over, { ...begin, ...(rest ? { program: rest } : {}) }),
      zeroStep, cutStep(),
    ];
  }
  if (!two) {
    return [
      step(`take ${s} ${c}`, 'take', `Take the file of ${name}, ${where}.`, mark, over, { ...begin, ...(rest ? { program: rest } : {}) }), zeroStep,
      ...(rest?.seats.slice(0, 1) ?? []).map((v) => step(`first ${s} ${c}`, 'first', `First seat ${v}: type its reading.`, 'first seat', over || known.firsts.has(v), { valve: v, program: rest! })),
      cutStep(),
    ];
  }
  const waiting = read(first)[0] ?? first?.seats[0];
  return [
    step(`take ${s} ${c} first`, 'take', `Take the first file of ${name}, ${where}.`, mark, over || !first, { ...begin, ...(first ? { program: first } : {}) }),
    zeroStep,
    step(`first ${s} ${c}`, 'first', `First seat${waiting ? ` ${waiting}` : ''}: type its reading.`, 'first seat', over || !first, { ...(waiting ? { valve: waiting } : {}), ...(first ? { program: first } : {}) }),
    step(`take ${s} ${c}`, 'take', `Take the second file of ${name}, ${where}.`, 'file', over, rest ? { program: rest } : {}),
    cutStep(),
  ];

  function cutStep(): Step {
    return step(`cut ${s} ${c}`, 'cut', `Cut with ${name}${rest ? `: ${rest.seats.join(', ')}` : ''}.`, 'cut', over, rest ? { program: rest } : {});
  }
}

const angle = (deg: number) => `${deg < 0 ? '−' : ''}${Math.abs(deg).toFixed(2)}°`;
