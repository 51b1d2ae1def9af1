// A table of numbers with a caption; it scrolls by itself where the screen is narrower. Columns named in `words`
// hold words and may break their lines.

import type { ComponentChildren } from 'preact';
import { Wide } from './wide';

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
