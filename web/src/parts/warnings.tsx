// What the stage has to say, under the drawing, each beside the valve it concerns.

import type { Warning } from '../api/types';

export function Warnings(props: { warnings: Warning[]; onPick?: (valve: string) => void }) {
  if (props.warnings.length === 0) return null;
  const ordered = [...props.warnings].sort((a, b) => Number(b.blocking ?? false) - Number(a.blocking ?? false));
  return (
    <ul class="warnings" aria-label="What to attend to">
      {ordered.map((w, i) => (
        <li key={`${w.code}/${w.valve ?? ''}/${i}`} class={w.blocking ? 'warning-stop' : undefined}>
          <svg viewBox="0 0 20 20" aria-hidden="true">
            {w.blocking
              ? <path d="M10 2 L18.5 17.5 L1.5 17.5 Z M10 8 L10 12.5 M10 14.4 L10 15.6" class="mark-line" />
              : <path d="M3 4 L17 4 M3 10 L17 10 M3 16 L11 16" class="mark-line" />}
          </svg>
          <span>
            <span class="unseen">{w.blocking ? 'Stops the plan: ' : 'Note: '}</span>
            {w.valve && <ValveName id={w.valve} onPick={props.onPick} />}
            {w.text}
          </span>
        </li>
      ))}
    </ul>
  );
}

function ValveName(props: { id: string; onPick?: ((valve: string) => void) | undefined }) {
  const { id, onPick } = props;
  if (!onPick) return <b class="valve-name">{id} </b>;
  return <button type="button" class="valve-name" onClick={() => onPick(id)}>{id}</button>;
}

export function Assumptions(props: { lines: string[] | undefined }) {
  if (!props.lines?.length) return null;
  return (
    <details class="fold assumptions">
      <summary>What is assumed</summary>
      <ul>{props.lines.map((line) => <li key={line}>{line}</li>)}</ul>
    </details>
  );
}
