// Rows of numbers, each with its "why": formula, source and assumptions in words, opened under the row.

import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import type { Reason, Stage } from '../api/types';

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
  inputs?: string; // the numbers that went in, in words
  attention?: boolean;
}

export function Row(props: RowProps) {
  const [open, setOpen] = useState(false);
  const [fault, setFault] = useState<string | null>(null);
  const { why } = props;
  const toggle = () => {
    setOpen(!open);
    if (why && !open) reasonsOf(why.job, why.stage).catch((f: unknown) => setFault(sentenceOf(f)));
  };
  return (
    <div class={`row${props.attention ? ' row-attention' : ''}`}>
      <span class="row-label">{props.label}</span>
      <span class="row-value">{props.children}</span>
      {why && (
        <button type="button" class="why" aria-expanded={open} aria-label={`Why ${props.label}`} onClick={toggle}>why</button>
      )}
      {why && open && (
        <Because reason={reasons.value[`${why.job}/${why.stage}`]?.find((r) => r.key === why.key)} fault={fault}
                 inputs={props.inputs} />
      )}
    </div>
  );
}

function Because(props: { reason: Reason | undefined; fault: string | null; inputs: string | undefined }) {
  if (props.fault) return <p class="because">{props.fault}</p>;
  if (!props.reason) return <p class="because">{props.inputs ?? 'Taken as it was recorded; nothing is computed here.'}</p>;
  const { says, formula, source } = props.reason;
  return (
    <dl class="because">
      <dt>In words</dt><dd>{says}</dd>
      {formula && <><dt>Formula</dt><dd class="formula">{formula}</dd></>}
      {props.inputs && <><dt>From</dt><dd>{props.inputs}</dd></>}
      {source && <><dt>Source</dt><dd>{source}</dd></>}
    </dl>
  );
}

export const Rows = (props: { title?: string; children: ComponentChildren }) => (
  <section class="rows">
    {props.title && <h3>{props.title}</h3>}
    {props.children}
  </section>
);
