// A long list: its first few, and all of it when asked for. What somebody has to see (`keep`) stands there in any case.

import { useSignal } from '@preact/signals';
import type { ComponentChildren } from 'preact';

interface Props<T> { of: readonly T[]; what: string; row: (item: T) => ComponentChildren; keep?: (item: T) => boolean; most?: number; class?: string; label?: string }

const usual = 10;

// Of a list hardly longer than that nothing is left out.
export function firstOf<T>(of: readonly T[], most: number = usual, keep?: (item: T) => boolean): readonly T[] {
  if (of.length <= most + 2) return of;
  return of.filter((item, i) => i < most || keep?.(item));
}

export function FirstOf<T>(props: Props<T>) {
  const all = useSignal(false);
  const first = firstOf(props.of, props.most, props.keep);
  const list = props.class ?? 'entries';
  const rows = (all.value ? props.of : first).map(props.row);
  return (
    <>
      {list.startsWith('cards') ? <div class={list}>{rows}</div> : <ul class={list} aria-label={props.label}>{rows}</ul>}
      {first.length < props.of.length && (
        <p class="acts no-print"><button type="button" aria-expanded={all.value} onClick={() => { all.value = !all.value; }}>{all.value ? 'Only the first' : `All ${props.of.length} ${props.what}`}</button></p>
      )}
    </>
  );
}

// A phone, where whole parts of a page are folded until they are asked for.
export const onPhone = () => innerWidth < 640;
