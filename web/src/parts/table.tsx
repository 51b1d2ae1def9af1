// A table of numbers with a caption; it scrolls by itself where the screen is narrower. Columns named in `words`
// hold words and may break their lines.

import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

export interface TableRow { key: string; cells: ComponentChildren[]; attention?: boolean; now?: boolean }
interface Props { caption: string; head: string[]; words?: number[]; rows: TableRow[] }

export function Table({ caption, head, words = [], rows }: Props) {
  if (rows.length === 0) return null;
  const kind = (i: number) => (words.includes(i) ? 'words' : undefined);
  return (
    <Wide name={caption}>
      <table>
        <caption>{caption}</caption>
        <thead><tr>{head.map((name, i) => <th key={name} class={kind(i)}>{name}</th>)}</tr></thead>
        <tbody>
          {rows.map((row) => (
            <tr key={row.key} class={row.attention ? 'attention' : row.now ? 'now' : undefined}>
              {row.cells.map((cell, i) => (i === 0 ? <th key={i} scope="row">{cell}</th> : <td key={i} class={kind(i)}>{cell}</td>))}
            </tr>
          ))}
        </tbody>
      </table>
    </Wide>
  );
}

// A table that may be wider than the screen: it scrolls by itself, and then can be reached and scrolled by
// keyboard too.
export function Wide(props: { name: string; children: ComponentChildren }) {
  const box = useRef<HTMLDivElement>(null);
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const measure = () => setScrolls(holder.scrollWidth > holder.clientWidth + 1);
    const watch = new ResizeObserver(measure);
    watch.observe(holder);
    for (const child of holder.children) watch.observe(child);
    return () => watch.disconnect();
  }, []);
  return (
    <div ref={box} class="wide" {...(scrolls ? { tabIndex: 0, role: 'region', 'aria-label': props.name } : {})}>
      {props.children}
    </div>
  );
}
