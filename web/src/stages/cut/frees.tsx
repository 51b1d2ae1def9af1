// What frees something held back, done where it is said: a figure the job has not yet, a figure that is right after all, or a
// lead who lets it pass.

import { useSignal } from '@preact/signals';
import { session } from '../../api/client';
import { valueAt } from '../../api/tree';
import type { HeldBack } from '../../api/types';
import { draftOf } from '../../entry/draft';
import { change, takeBack } from '../../entry/outbox';
import { parseQuantity } from '../../numbers/parse';
import type { Quantity } from '../../numbers/quantity';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { keyOf, keyWords } from '../../state/keys';
import { mayChange, mayLead, mayRecord, whyNot } from '../../state/may';
import { entries, headHere, job, shown } from '../../state/open_job';
import { go, jobAddress } from '../../state/route';
import { say } from '../../state/said_steps';
import { walkHere } from '../../state/walk_here';
import { implausible } from '../typed_values';
import { lackingKey, runOfZero } from './held_words';

// `part`: of files that are no step of the walk.
export function Frees(props: { of: HeldBack; part: boolean }) {
  const { sure, allow } = props.of;
  const lacking = lackingKey(props.of, job.value?.tables);
  const trimmed = props.part ? undefined : /^trim (.+)$/.exec(allow ?? '')?.[1]; // whose first reading says that Z0 is wrong
  return (
    <>
      {trimmed !== undefined && mayRecord() && <ZeroAgain seat={trimmed} />}
      {lacking !== null && <Lacking place={lacking} />}
      {sure && mayRecord() && <Sure entry={sure.entry} said={sure.said} />}
      {allow && mayLead() && <LetPass what={allow} />}
    </>
  );
}

// Z0 is said to be taken no more, and the first reading that came of it is taken back: the walk stands at Z0 again.
function ZeroAgain(props: { seat: string }) {
  const { seat } = props;
  const id = job.value?.id ?? 0;
  const head = headHere.value;
  const run = runOfZero(walkHere(head).steps, seat);
  if (run === undefined) return null;
  const again = async () => {
    await say(head, `zero ${run}`, false, `Z0 for ${seat} is to be taken again`);
    for (const e of entries.value.entries.filter((e) => e.live && e.kind === 'first' && e.head === head && e.valve === seat)) await takeBack(id, e, `take back first seat ${seat}: Z0 is taken again`);
    go(jobAddress(id, 'machine'));
  };
  return <span class="acts no-print"><button type="button" onClick={() => void again()}>Take Z0 again</button> <span class="quiet">The reading of {seat} is taken back, since it belongs to the old Z0.</span></span>;
}

const named: Record<string, Quantity> = { axis_speed: 'speed', surface_speed: 'surfaceSpeed', number: 'plain', ratio: 'plain' };
const alike: Quantity[] = ['length', 'angle', 'mass', 'volume', 'vacuum', 'force', 'power', 'torque', 'frequency', 'stiffness', 'modulus'];
const quantityOf = (place: string) => named[keyOf(place)?.dimension ?? ''] ?? alike.find((q) => q === keyOf(place)?.dimension);

// A figure that no page has a field for while the job has none: typed here, it is a change of the job.
function Lacking(props: { place: string }) {
  const { place } = props;
  const here = job.value;
  const text = draftOf(here?.id ?? 0, 'key', place);
  const sure = useSignal('');
  const missing = useSignal(false);
  const quantity = quantityOf(place);
  if (!here || !quantity) return null;
  if (!mayChange(place)) return <span class="quiet">{keyWords(place, job.value?.tables)}: {whyNot(place)}</span>;
  const label = keyWords(place, job.value?.tables);
  const check = (v: number) => (sure.value === text.value.trim() ? null : implausible({ label, quantity, range: place }, v, shown.value));
  const store = () => {
    const got = parseQuantity(text.value, quantity, shown.value);
    missing.value = text.value.trim() === '';
    if (!got.ok || check(got.value) !== null) return;
    const value = quantity === 'plain' ? got.value : written(got, quantity);
    void change(here, [{ key: place, value }], `${label}: ${text.value.trim()}`).then(() => { text.value = ''; });
  };
  return (
    <span class="lacking no-print">
      <Field label={label} text={text} quantity={quantity} unit={shown.value} optional check={check} yes={(t) => { sure.value = t; }} onEnter={store} />
      <button type="button" aria-label={`Store: ${label}`} onClick={store}>Store</button>
      {missing.value && text.value.trim() === '' && <span role="alert">Type the figure first.</span>}
    </span>
  );
}

function Sure(props: { entry: string; said: string }) {
  const here = job.value;
  if (!here) return null;
  const said = valueAt(here.tables, 'sure');
  const all = Array.isArray(said) ? said : [];
  const say = () => void change(here, [{ key: 'sure', value: [...all, props.entry] }], `sure: ${props.entry}`);
  return <span class="acts no-print"><button type="button" onClick={say}>Yes, {props.said}</button></span>;
}

function LetPass(props: { what: string }) {
  const why = useSignal('');
  const here = job.value;
  if (!here) return null;
  const said = valueAt(here.tables, 'allow');
  const next = Array.isArray(said) ? said.length : 0;
  const reason = why.value.trim();
  const by = session.value?.person?.name ?? '';
  const say = () => {
    if (reason !== '') void change(here, [{ key: `allow[${next}]`, value: { what: props.what, why: reason, by } }], `let pass: ${props.what}`);
  };
  return (
    <span class="acts no-print">
      <input aria-label={`Reason to let ${props.what} pass`} placeholder="the reason" value={why.value} onInput={(e) => { why.value = e.currentTarget.value; }} />
      <button type="button" disabled={reason === ''} onClick={say}>Let pass: {props.what}</button>
    </span>
  );
}
