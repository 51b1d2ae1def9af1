// Rows of numbers, each with its "why": formula, source and assumptions in words, opened under the row.

import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import type { Reason, Stage } from '../api/types';
import { inputsOf } from '../state/inputs';
import { state } from '../state/open_job';
import { fetchShelf } from '../state/shelf';

const reasons = signal<Record<string, Reason[]>>({}); // by job/stage

async function reasonsOf(job: number, stage: Stage): Promise<void> {
  const name = `${job}/${stage}`;
  if (reasons.value[name]) return;
  const answer = await get<{ reasons: Reason[] }>(`/jobs/${job}/why/${stage}`);
  reasons.value = { ...reasons.value, [name]: answer.reasons };
}

interface RowProps {
  label: string;
  children: ComponentChildren;
  why?: { job: number; stage: Stage; key: string };
  attention?: boolean;
  made?: boolean; // it stands on a figure no person gave
  long?: boolean; // the value stands under its label, over the whole width
}

export function Row(props: RowProps) {
  const [open, setOpen] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const { why } = props;
  const toggle = () => {
    setOpen(!open);
    if (!why || open) return;
    Promise.all([reasonsOf(why.job, why.stage), fetchShelf()]).catch((f: unknown) => setFault(sentenceOf(f)));
  };
  return (
    <div class={`row${props.attention ? ' row-attention' : ''}${props.long ? ' row-long' : ''}`}>
      <span class="row-label">{props.label}</span>
      <span class={`row-value${props.made ? ' made' : ''}`}>{props.children}{props.made && <small>not from you</small>}</span>
      {why && (
        <button type="button" class="why" aria-expanded={open} aria-label={`Why ${props.label}`} onClick={toggle}>why</button>
      )}
      {why && open && <Because why={why} fault={fault} />}
    </div>
  );
}

function Because(props: { why: { job: number; stage: Stage; key: string }; fault: string | null }) {
  const { job, stage, key } = props.why;
  const all = reasons.value[`${job}/${stage}`];
  if (props.fault) return <p class="because">{props.fault}</p>;
  if (!all) return <p class="because" role="status">One moment.</p>;
  const reason = reasonOf(all, key);
  const inputs = inputsOf(stage, key);
  const assumed = state.value?.results[stage]?.assumptions ?? [];
  return (
    <dl class="because">
      {reason && <><dt>In words</dt><dd>{reason.says}</dd></>}
      {reason?.formula && <><dt>Formula</dt><dd class="formula">{reason.formula}</dd></>}
      {inputs.length > 0 && <><dt>From</dt><dd>{inputs.join('; ')}</dd></>}
      {reason?.source && <><dt>Source</dt><dd>{reason.source}</dd></>}
      {assumed.length > 0 && <><dt>This stage</dt>{assumed.map((a) => <dd key={a}>{a}</dd>)}</>}
    </dl>
  );
}

export const Rows = (props: { title?: string; children: ComponentChildren }) => (
  <section class="rows">
    {props.title && <h3>{props.title}</h3>}
    {props.children}
  </section>
);

// Which of the server's reasons explains a number: its own, or that of the quantity it is a case of.
const sameAs: Record<string, string> = {
  swing_deg: 'tilt_deg', worst_plumb_deg: 'plumb_deg', yaw_sd_deg: 'position_sd_mm', incline_deg: 'correction_tilt_deg',
  cant_deg: 'correction_tilt_deg', incline_bias_deg: 'correction_tilt_deg', scatter_deg: 'correction_tilt_deg',
  least_enter_probability: 'enter_probability', touches_to_target: 'next_touch', p_value: 'chi2', blind_run: 'enter_probability',
  'depth.total_mm': 'depth_mm', 'depth.stem_spread_mm': 'depth_mm', 'depth.chamber_spread_cm3': 'depth_mm', seconds_head: 'seconds',
};

function reasonOf(all: Reason[], key: string): Reason | undefined {
  return all.find((r) => r.key === key) ?? all.find((r) => r.key === sameAs[key]);
}
