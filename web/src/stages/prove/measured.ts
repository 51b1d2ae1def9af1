// What was measured on all heads of the job, from its results.csv.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, getText } from '../../api/client';
import type { BatchLine, ProveResult } from '../../api/types';
import { drawn, headHere, job, shown } from '../../state/open_job';

// A line of results.csv (docs/prove-results.md): one characteristic of one seat, mm.
export interface Measured { head: string; valve: string; what: string; value: number | null; high: number | null; verdict: string }

// Of every head of the job, not of the chosen one alone.
export function useMeasured(): Measured[] {
  const rows = useSignal<Measured[]>([]);
  const id = job.value?.id ?? 0;
  const fresh = drawn.value;
  useEffect(() => {
    getText(`/jobs/${id}/papers/results.csv?look=1`).then((text) => { rows.value = measuredOf(text); }).catch(() => undefined);
  }, [id, fresh]);
  return rows.value;
}

export function measuredOf(csv: string): Measured[] {
  const [names = [], ...lines] = cellsOf(csv);
  const number = (text: string | undefined) => (text === undefined || text === '' ? null : Number(text));
  const at = (line: string[], name: string) => line[names.indexOf(name)];
  return lines.map((l) => ({ head: at(l, 'head') ?? '', valve: at(l, 'valve') ?? '', what: at(l, 'characteristic') ?? '', value: number(at(l, 'value')), high: number(at(l, 'limit_high')), verdict: at(l, 'verdict') ?? '' }));
}

// RFC 4180.
function cellsOf(csv: string): string[][] {
  const rows: string[][] = [];
  let row: string[] = [];
  for (const [, quoted, plain = '', end] of csv.matchAll(/(?:"((?:[^"]|"")*)"|([^,\r\n]*))(,|\r?\n|$)/g)) {
    if (end === '' && quoted === undefined && plain === '' && row.length === 0) break;
    row.push(quoted === undefined ? plain : quoted.replaceAll('""', '"'));
    if (end === ',') continue;
    rows.push(row);
    row = [];
  }
  return rows;
}

// The lines of the batch with their points.
export function useCharts(): BatchLine[] {
  const lines = useSignal<BatchLine[]>([]);
  const id = job.value?.id ?? 0;
  const [unit, head, fresh] = [shown.value, headHere.value, drawn.value];
  useEffect(() => {
    get<ProveResult>(`/jobs/${id}/results/prove?units=${unit}&head=${encodeURIComponent(head)}`).then((r) => { lines.value = r.batch; }).catch(() => undefined);
  }, [id, unit, head, fresh]);
  return lines.value;
}
