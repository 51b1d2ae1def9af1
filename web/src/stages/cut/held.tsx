// What goes into no program: why, and what would free it.

import type { HeldBack } from '../../api/types';

export function HeldBackList(props: { held: HeldBack[]; setups: number }) {
  if (props.held.length === 0) return null;
  return (
    <section aria-label="Held back">
      <h3>Held back: no program has these</h3>
      <ul class="warnings">
        {props.held.map((h) => (
          <li key={`${h.setup}/${h.valve ?? ''}/${h.code}`} class="warning-stop">
            <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M6 2.5 L14 2.5 L17.5 6 L17.5 14 L14 17.5 L6 17.5 L2.5 14 L2.5 6 Z M6 10 L14 10" class="mark-line" /></svg>
            <span>
              <b class="valve-name">{h.valve ?? (h.setup === '' ? 'All' : `Setup ${h.setup}`)}</b>{' '}
              {props.setups > 1 && h.valve !== null && h.setup !== '' ? `(setup ${h.setup}) ` : ''}
              {sentence(withoutName(h))}
              {h.frees !== '' && <> What frees it: {sentence(h.frees)}</>}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

// The seat's name stands before the reason already.
const withoutName = (h: HeldBack) => (h.valve !== null && h.reason.startsWith(`${h.valve} `) ? h.reason.slice(h.valve.length + 1) : h.reason);
const sentence = (text: string) => (/[.!?]$/.test(text) ? text : `${text}.`);
