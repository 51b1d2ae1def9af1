// What the stage has to say, under the drawing, each beside the valve it concerns. What is said of many valves alike is said
// once, with their names; the sentence of each is behind a line that opens.

import type { Warning } from '../api/types';
import { behind, plain } from './plain';

const apart = 3; // so many of one kind are said one by one

interface Props { warnings: Warning[]; head?: string; onPick?: ((valve: string) => void) | undefined }

export function Warnings(props: Props) {
  if (props.warnings.length === 0) return null;
  const ordered = [...props.warnings].sort((a, b) => Number(b.blocking ?? false) - Number(a.blocking ?? false));
  return (
    <ul class="warnings" aria-label="What to attend to">
      {gathered(ordered).map((of, i) => <Group key={`${of[0]!.code}/${of[0]!.valve ?? ''}/${i}`} of={of} head={props.head} onPick={props.onPick} />)}
    </ul>
  );
}

// In the order of the first of each kind.
export function gathered(ordered: Warning[]): Warning[][] {
  const kind = (w: Warning) => (w.valve ? `${w.code}/${w.blocking ?? false}` : '');
  const groups: Warning[][] = [];
  for (const w of ordered) {
    const alike = ordered.filter((o) => kind(o) === kind(w) && kind(w) !== '');
    if (alike.length <= apart) groups.push([w]);
    else if (alike[0] === w) groups.push(alike);
  }
  return groups;
}

interface Said { head: string | undefined; onPick: Props['onPick'] }

function Group(props: Said & { of: Warning[] }) {
  const [first, ...rest] = props.of;
  if (!first) return null;
  return (
    <li class={first.blocking ? 'warning-stop' : undefined}>
      <svg viewBox="0 0 20 20" aria-hidden="true">
        {first.blocking
          ? <path d="M10 2 L18.5 17.5 L1.5 17.5 Z M10 8 L10 12.5 M10 14.4 L10 15.6" class="mark-line" />
          : <path d="M3 4 L17 4 M3 10 L17 10 M3 16 L11 16" class="mark-line" />}
      </svg>
      <div>
        <p><Sentence of={first} head={props.head} onPick={props.onPick} /></p>
        {rest.length > 0 && (
          <details>
            <summary>The same of {rest.length} others: {rest.map((w) => w.valve).join(', ')}</summary>
            {rest.map((w, i) => <p key={`${w.valve ?? ''}/${i}`}><Sentence of={w} head={props.head} onPick={props.onPick} /></p>)}
          </details>
        )}
      </div>
    </li>
  );
}

const Sentence = (props: Said & { of: Warning }) => (
  <>
    <span class="unseen">{props.of.blocking ? 'Stops the plan: ' : 'Note: '}</span>
    {props.of.valve && <ValveName id={props.of.valve} onPick={props.onPick} />}
    {said(props.of, props.head)}
  </>
);

// What is wrong and what frees it are clauses of some sentences. The head chosen is named on top already.
function said(of: Warning, head: string | undefined): string {
  const clause = (name: string) => (of.values[name] as { text?: string } | undefined)?.text;
  const reason = clause('reason'), frees = clause('frees');
  if (reason !== undefined && frees !== undefined) return behind(reason, frees, of.valve);
  const named = of.named && of.values['head'] === head ? [`${of.named}: `, `${of.named}, `].find((n) => of.text.startsWith(n)) : undefined;
  return behind(named ? of.text.slice(named.length) : of.text, undefined, of.valve);
}

function ValveName(props: { id: string; onPick: Props['onPick'] }) {
  const { id, onPick } = props;
  if (!onPick) return <b class="valve-name">{id} </b>;
  return <button type="button" class="valve-name" onClick={() => onPick(id)}>{id}</button>;
}

export function Assumptions(props: { lines: string[] | undefined }) {
  if (!props.lines?.length) return null;
  return (
    <details class="fold assumptions">
      <summary>What is assumed</summary>
      <ul>{props.lines.map((line) => <li key={line}>{plain(line)}</li>)}</ul>
    </details>
  );
}
