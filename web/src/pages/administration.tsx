// For who looks after the PC: the data and the room they have, the backups, who is on, what was refused.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { get, sentenceOf } from '../api/client';
import { Row, Rows } from '../parts/numbers';
import { Customers } from './customers';
import { LoginLines } from './login_lines';
import { Screens } from './screens';

interface Answer {
  version: string;
  data: { jobs: number; entries: number; people: number; bytes: number | null; photographs_bytes: number | null; free_bytes: number | null; checked: boolean; damage: string[]; acknowledged: string };
  backups: { folder: string | null; newest: string | null; count: number; same_disk: boolean; failed: string | null };
  on: { name: string; screens: number }[];
  logins: { refused: number; made_to_wait: number };
}

// Sizes as a person says them: in the largest unit that leaves a figure before the point.
export function sizeWords(bytes: number): string {
  const units = ['bytes', 'kB', 'MB', 'GB', 'TB'];
  let at = 0;
  let left = bytes;
  while (left >= 1000 && at < units.length - 1) {
    left /= 1000;
    at += 1;
  }
  return `${at === 0 || left >= 100 ? left.toFixed(0) : left.toFixed(1)} ${units[at]}`;
}

export function AdministrationPage() {
  const answer = useSignal<Answer | null>(null);
  const said = useSignal<string | null>(null);
  useEffect(() => {
    get<Answer>('/administration').then((a) => { answer.value = a; }, (fault: unknown) => { said.value = sentenceOf(fault); });
  }, []);
  const now = answer.value;
  return (
    <main class="page">
      <header><h1>Data and backups</h1></header>
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
      {now && <p class="sentence">{sentence(now)}</p>}
      {now && (
        <div class="two even">
          {!onServer(now.data) && <Backups backups={now.backups} />}
          <Data data={now.data} version={now.version} />
        </div>
      )}
      {now && (
        <Rows title="Who was here in the last quarter of an hour">
          {now.on.map((p) => <Row key={p.name} label={p.name}>{p.screens === 1 ? 'one screen' : `${p.screens} screens`}</Row>)}
          <Row label="Logins refused in the last day" attention={now.logins.refused > 0}>{now.logins.refused}</Row>
          <Row label="Made to wait after wrong passwords">{now.logins.made_to_wait}</Row>
        </Rows>
      )}
      <Screens />
      <Customers />
      <LoginLines />
    </main>
  );
}

// A database server has its own backups and disks.
const onServer = (data: Answer['data']): boolean => data.bytes === null;

// What to do next, or that nothing is to be done.
function sentence({ data, backups }: Answer): string {
  if (data.damage.length > 0) return 'Something is not as it was stored: see below, and restore the newest good backup beside it.';
  if (onServer(data)) return 'All is well here. Backups are made of the database server: see there that last night’s is good.';
  if (backups.folder === null) return 'No backups are made. Start the workbench with --backups and a folder on another disk.';
  if (backups.failed !== null) return `The last backup failed: ${backups.failed}.`;
  if (backups.same_disk) return 'Backups stand on the same disk as the data: choose a folder on another one.';
  if (data.free_bytes !== null && data.free_bytes < 5e9) return `Only ${sizeWords(data.free_bytes)} are left on the disk of the data.`;
  return 'All is well.';
}

function Backups({ backups }: { backups: Answer['backups'] }) {
  return (
    <Rows title="Backups">
      <Row long label="Folder" attention={backups.folder === null}>{backups.folder ?? 'none'}</Row>
      <Row label="Newest">{backups.newest ?? 'none yet'}</Row>
      <Row label="Kept">{backups.count}</Row>
      <p>One each night, opened and one of its jobs worked out from it before it counts. Kept: seven days, four weeks, twelve months.</p>
    </Rows>
  );
}

function Data({ data, version }: { data: Answer['data']; version: string }) {
  return (
    <Rows title="Data">
      <Row label="Jobs">{data.jobs}</Row>
      <Row label="Entries">{data.entries}</Row>
      <Row label="Accounts">{data.people}</Row>
      {data.bytes !== null && <Row label="Data file">{sizeWords(data.bytes)}</Row>}
      {data.photographs_bytes !== null && <Row label="Photographs">{sizeWords(data.photographs_bytes)}</Row>}
      {data.free_bytes === null ? <Row label="Room left">see the database server’s own disks</Row> : <Row label="Room left on the disk" attention={data.free_bytes < 5e9}>{sizeWords(data.free_bytes)}</Row>}
      <Row label="Each entry is on disk before it is answered">{data.acknowledged}</Row>
      <Row label="Checked against its digests">{data.checked ? 'all of it' : 'not all of it yet'}</Row>
      {data.damage.map((words) => <Row long key={words} label="Damaged" attention>{words}</Row>)}
      <Row label="Version of the program">{version}</Row>
    </Rows>
  );
}
