// The program files of one setup, each with what it cuts and how its Z0 is taken; the text of the one chosen below.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { getText, sentenceOf } from '../../api/client';
import type { CutProgram, CutResult } from '../../api/types';
import { drawn, entries, job, state } from '../../state/open_job';
import { takenAs, useDigest } from '../../state/papers';
import { known } from '../../state/shelf';
import { Fold } from '../../parts/fold';
import { SendTo } from '../../parts/sent_files';
import { FirstEntry } from './first_entry';
import { TakeIt } from './take_file';

// The query of the interface: a blade broke at a valve (from), or some seats are picked (only, with commas between).
export type Part = { from: string } | { only: string };

interface Props {
  result: CutResult;
  setup: string;
  part?: Part; // of the head; all of it if not said
}

// The files of a part of the head, under the name of their setup.
export function PartOfHead(props: Props) {
  return (
    <>
      <h4>Setup {props.setup}</h4>
      <ProgramFiles {...props} />
      <p><a class="button" href={`/api${addressOf('sheet.pdf', { ...props.part })}`} download={takenAs(`sheet-${Object.entries(props.part ?? {}).flat().join('').replaceAll(',', '-')}.pdf`)}>Take its setup sheet</a></p>
    </>
  );
}

export function ProgramFiles({ result, setup, part }: Props) {
  const chosen = useSignal('');
  const programs = result.programs.filter((p) => p.setup === setup);
  const query = { ...part };
  const digest = useDigest(query);
  const short = known('dialect.names') === '8.3'; // no room for a number in front of the name
  const text = part === undefined; // one of them is read on the page
  const atControl = known('machine.trim') === 'control';
  const shown = programs.find((p) => p.file === chosen.value) ?? programs[0];
  if (!shown) return <NoFile result={result} setup={setup} />;
  return (
    <>
      <ul class="files" aria-label={`Files of setup ${setup}`}>
        {programs.map((p) => (
          <li key={p.file}>
            <h4>{p.file}{digest !== '' && <span class="digest"> {digest}</span>}</h4>
            <p>{cutterOf(p, result)}, {seatsOf(p)}: <b>{partOf(p)}</b></p>
            {zerosOf(p).map((words) => <p key={words}>{words}.</p>)}
            <div class="acts">
              <Earned program={p} />
              {p.checked && <TakeIt address={addressOf(p.file, query)} file={p.file} />}
            </div>
            {p.checked && <SendTo ahead file={p.file} query={query} />}
            {p.checked && (p.first || atControl) && firstsOf(p).map((seat) => (
              <details key={seat} class="fold no-print">
                <summary>Type the reading of first seat {seat}</summary>
                <FirstEntry head={p.head} seat={seat} atControl={atControl} newBlade={part !== undefined && 'from' in part} />
              </details>
            ))}
          </li>
        ))}
      </ul>
      {digest !== '' && <p class="quiet">{digest} is this plan’s mark: it stands in the file’s first line and on the sheet too.{short ? ` The names are short: each file comes in a folder named ${job.value?.id ?? 0}.` : ''}</p>}
      {text && <Fold title="Read the program" note={shown.file}>{programs.length > 1 && <div class="acts">{programs.map((p) => <button key={p.file} type="button" aria-pressed={p === shown} onClick={() => { chosen.value = p.file; }}>{p.file}</button>)}</div>}<ProgramText file={shown.file} address={addressOf(shown.file, { ...query, look: '1' })} /></Fold>}
    </>
  );
}

// A file of first seats has nothing else; one that halts after it has it first.
const firstsOf = (program: CutProgram) => (program.first ? program.seats : program.seats.slice(0, 1));

function addressOf(file: string, query: Record<string, string>): string {
  const words = Object.entries({ head: state.value?.head ?? '', ...query }).map(([k, v]) => `${k}=${encodeURIComponent(v)}`).join('&');
  return `/jobs/${job.value?.id ?? 0}/papers/${encodeURIComponent(file)}?${words}`;
}

function cutterOf(program: CutProgram, result: CutResult): string {
  const numbers = program.cutter !== null ? [program.cutter] : program.zeros?.map((z) => z.cutter) ?? [];
  const named = numbers.map((n) => {
    const name = result.cutters?.find((c) => c.number === n)?.cutter;
    return name === undefined ? `${n}` : `${n} (${name})`;
  });
  return `${named.length > 1 ? 'Cutters' : 'Cutter'} ${named.join(', ')}`;
}

const seatsOf = (program: CutProgram) => `${program.seats.length > 1 ? 'seats' : 'seat'} ${program.seats.join(', ')}`;

function partOf(program: CutProgram): string {
  if (program.first) return 'first seat, cut short';
  const read = entries.value.entries.some((e) => e.live && e.kind === 'first' && e.head === program.head && program.seats.includes(e.valve));
  return read ? 'the rest, the first seat to its depth too' : 'all of them';
}

const zerosOf = (program: CutProgram) => (program.zero ? [program.zero] : program.zeros ?? []).map((z) => z.words);

function Earned(props: { program: CutProgram }) {
  const { program } = props;
  if (!program.checked) return <Flag words="not handed out: reading it back found a fault" />;
  const from = program.positions === 'found' ? ', at the positions found' : program.positions === 'map' ? ', at the map’s positions: nothing is touched yet' : '';
  return (
    <span class="mark">
      <svg viewBox="0 0 20 20" aria-hidden="true"><rect x="2.5" y="2.5" width="15" height="15" class="mark-line" /><path d="M5.5 10.5 L9 14 L15 6" class="mark-line" /></svg>
      <span>{`read back and found right, ${program.lines} lines${from}`}</span>
    </span>
  );
}

function Flag(props: { words: string }) {
  return (
    <span class="mark mark-attention">
      <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2 L18.5 17.5 L1.5 17.5 Z M10 8 L10 12.5 M10 14.4 L10 15.6" class="mark-line" /></svg>
      <span>{props.words}</span>
    </span>
  );
}

// Why a setup has no file: what is held back of it, and what stops the plan.
function NoFile(props: { result: CutResult; setup: string }) {
  const { result, setup } = props;
  const held = (result.held_back ?? []).filter((h) => h.setup === setup).length;
  const stops = (result.warnings ?? []).filter((w) => w.stage === 'cut' && w.blocking).map((w) => w.text);
  const why = [...(held > 0 ? ['what is held back stands below, with what frees it'] : []), ...new Set(stops)];
  return (
    <>
      <p><Flag words={`no file of setup ${setup} is handed out`} /></p>
      {why.length > 0 ? <ul class="entries">{why.map((w) => <li key={w}>{w}</li>)}</ul> : <p>None of its seats is to be cut as things stand.</p>}
    </>
  );
}

function ProgramText(props: { file: string; address: string }) {
  const text = useSignal('');
  const { address } = props;
  const fresh = drawn.value;
  useEffect(() => {
    getText(address).then((t) => { text.value = t; }).catch((f: unknown) => { text.value = sentenceOf(f); });
  }, [address, fresh]);
  return <pre class="program-text" tabIndex={0} aria-label={`Text of ${props.file}`}>{text.value}</pre>;
}
