// What frees something held back, where a word is enough: a figure that is right after all, or a lead who lets it pass.

import { useSignal } from '@preact/signals';
import { session } from '../../api/client';
import { valueAt } from '../../api/tree';
import { change } from '../../entry/outbox';
import { mayLead, mayRecord } from '../../state/may';
import { job } from '../../state/open_job';
import { allowWords, sureWords } from './held_words';

export function Frees(props: { words: string }) {
  const sure = sureWords(props.words), allow = allowWords(props.words);
  return (
    <>
      {sure !== null && mayRecord() && <Sure words={sure} />}
      {allow !== null && mayLead() && <LetPass what={allow} />}
    </>
  );
}

function Sure(props: { words: string }) {
  const here = job.value;
  if (!here) return null;
  const said = valueAt(here.tables, 'sure');
  const all = Array.isArray(said) ? said : [];
  const say = () => void change(here, [{ key: 'sure', value: [...all, props.words] }], `sure: ${props.words}`);
  return <span class="acts no-print"><button type="button" onClick={say}>Yes, {props.words}</button></span>;
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
