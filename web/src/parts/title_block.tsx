// The block in the corner of the sheet: what this is, whose, which state of it.

import { headHere, job, shown } from '../state/open_job';
import { when } from './when';

export function TitleBlock() {
  const here = job.value;
  if (!here) return null;
  const cells: [string, string][] = [
    ['Job', here.title],
    ['Head', here.head],
    ['Valves', String(here.valves)],
    ['Readings of head', headHere.value],
    ['Shown in', shown.value === 'in' ? 'inch' : 'mm'],
    ['State', `change ${here.version}, entry ${here.sequence}`],
    ['Last', `${here.changed_by}, ${when(here.changed_at)}`],
  ];
  return (
    <dl class="title-block">
      {cells.map(([name, value]) => <div key={name}><dt>{name}</dt><dd>{value}</dd></div>)}
    </dl>
  );
}
