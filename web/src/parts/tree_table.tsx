// A tree of written values (a job or a shop file) as tables of fields, each changed by its key and in its own
// unit. Which key takes which quantity is the server's to judge; it answers with a sentence. What no person gave is dashed.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { Edit, Tree, TreeValue } from '../api/types';
import { isMadeUp } from '../state/made_up';
import { mayChange } from '../state/may';

export type OnEdit = (edits: Edit[], what: string) => void;

interface Props { tree: Tree; base: string; onEdit: OnEdit | undefined }

const isTree = (v: TreeValue): v is Tree => v !== null && typeof v === 'object' && !Array.isArray(v);
const words = (key: string) => key.replaceAll('_', ' ');

export function TreeTable(props: Props) {
  const { tree, base, onEdit } = props;
  const key = (name: string) => (base === '' ? name : `${base}.${name}`);
  const plain = Object.entries(tree).filter(([, v]) => !isTree(v) && !isListOfTables(v));
  const nested = Object.entries(tree).filter(([, v]) => isTree(v) || isListOfTables(v));
  return (
    <>
      {plain.length > 0 && (
        <div class="pair">{plain.map(([name, v]) => <Leaf key={name} label={words(name)} at={key(name)} value={v} onEdit={onEdit} />)}</div>
      )}
      {nested.map(([name, v]) => <Branch key={name} name={name} at={key(name)} value={v} onEdit={onEdit} />)}
    </>
  );
}

const isListOfTables = (v: TreeValue) => Array.isArray(v) && v.length > 0 && v.every(isTree);

function Branch(props: { name: string; at: string; value: TreeValue; onEdit: OnEdit | undefined }) {
  const { name, at, value, onEdit } = props;
  if (Array.isArray(value)) {
    return (
      <>
        {value.map((item, i) => {
          const title = isTree(item) && typeof item['name'] === 'string' ? item['name'] : isTree(item) && typeof item['id'] === 'string' ? item['id'] : String(i + 1);
          return <Section key={i} title={`${words(name)}: ${title}`} tree={item as Tree} at={`${at}[${i}]`} onEdit={onEdit} />;
        })}
      </>
    );
  }
  return <Section title={words(name)} tree={value as Tree} at={at} onEdit={onEdit} />;
}

function Section(props: { title: string; tree: Tree; at: string; onEdit: OnEdit | undefined }) {
  return (
    <section class="branch">
      <h3>{props.title}</h3>
      <TreeTable tree={props.tree} base={props.at} onEdit={props.onEdit} />
    </section>
  );
}

// A list of plain values is shown and typed in one line, parted by semicolons.
const shownValue = (v: TreeValue): string => (Array.isArray(v) ? v.map((x) => (Array.isArray(x) ? x.join(' ') : String(x))).join('; ') : String(v ?? ''));

function Leaf(props: { label: string; at: string; value: TreeValue; onEdit: OnEdit | undefined }) {
  const { at, value } = props;
  const onEdit = mayChange(at) ? props.onEdit : undefined;
  const text = useSignal(shownValue(value));
  useEffect(() => { text.value = shownValue(value); }, [shownValue(value)]);
  const commit = () => {
    if (!onEdit || text.value.trim() === shownValue(value)) return;
    onEdit([{ key: at, value: typedLike(value, text.value.trim()) }], `${at}: ${text.value.trim()}`);
  };
  if (typeof value === 'boolean') {
    return (
      <label class="leaf-check">
        <input type="checkbox" checked={value} disabled={!onEdit} onChange={(e) => onEdit?.([{ key: at, value: e.currentTarget.checked }], `${at}: ${String(e.currentTarget.checked)}`)} />
        {props.label}
      </label>
    );
  }
  const id = `leaf-${at}`;
  const notYours = isMadeUp(at);
  return (
    <div class={notYours ? 'field field-made' : 'field'}>
      <label for={id}>{props.label}{notYours && ', not from you'}</label>
      <input id={id} data-kept-left value={text.value} disabled={!onEdit} autocomplete="off" spellcheck={false}
             onInput={(e) => { text.value = e.currentTarget.value; }} onBlur={commit}
             onKeyDown={(e) => { if (e.key === 'Enter') commit(); }} />
    </div>
  );
}

// Numbers stay numbers where they were numbers and none but a number was typed.
export function typedLike(before: TreeValue, text: string): TreeValue {
  if (Array.isArray(before)) {
    const parts = text.split(';').map((p) => p.trim()).filter((p) => p !== '');
    return parts.map((p, i) => {
      const was = before[i] ?? before[0] ?? '';
      return Array.isArray(was) ? p.split(/\s+/).map((q) => typedLike(was[0] ?? '', q)) : typedLike(was, p);
    });
  }
  const number = Number(text.replace(',', '.'));
  return text !== '' && Number.isFinite(number) && typeof before === 'number' ? number : text;
}
