// People: my password, and (for a lead) who may do what.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post, sentenceOf, session } from '../api/client';
import type { Person, Role } from '../api/types';
import { useAttempt } from '../parts/attempt';
import { Wide } from '../parts/table';
import { LoginLines } from './login_lines';
import { OwnLogins } from './own_logins';
import { OwnPin } from './own_pin';

const roles: { role: Role; may: string }[] = [
  { role: 'reader', may: 'looks' },
  { role: 'machinist', may: 'looks, makes jobs, records readings' },
  { role: 'lead', may: 'looks, makes jobs, records readings, changes the shelf, the limits and verdicts' },
];

export function PeoplePage() {
  const me = session.value?.person;
  return (
    <main class="page">
      <header><h1>People</h1></header>
      <p>You are {me?.name}, {me?.role}: {roles.find((r) => r.role === me?.role)?.may}.</p>
      <OwnPassword />
      <OwnPin />
      <OwnLogins />
      {session.value?.acknowledged && <p>Entries are acknowledged {session.value.acknowledged}.</p>}
      {me?.role === 'lead' && <Everybody />}
      {me?.role === 'lead' && <LoginLines />}
    </main>
  );
}

function OwnPassword() {
  const said = useSignal<string | null>(null);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    try {
      await ask('PUT', '/session/password', { old: String(data.get('old')), new: String(data.get('new')) });
      said.value = 'The password is changed.';
      form.reset();
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  return (
    <details>
      <summary>Change my password</summary>
      <form class="form" onSubmit={(e) => void submit(e)}>
        <div><label for="old">The old one</label><input id="old" name="old" type="password" autocomplete="current-password" /></div>
        <div><label for="new">The new one</label><input id="new" name="new" type="password" autocomplete="new-password" /></div>
        <p role="status">{said.value}</p>
        <button type="submit">Change it</button>
      </form>
    </details>
  );
}

function Everybody() {
  const people = useSignal<Person[]>([]);
  const { said, attempt: once } = useAttempt();
  const fetchAll = async () => {
    people.value = (await get<{ people: Person[] }>('/people').catch(() => ({ people: people.value }))).people;
  };
  const attempt = (act: () => Promise<unknown>) => once(act).then(fetchAll);
  useEffect(() => void fetchAll(), []);
  const add = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    void attempt(async () => {
      await post('/people', { name: String(data.get('name')), role: String(data.get('role')), password: String(data.get('password')) });
      form.reset();
    });
  };
  return (
    <section>
      <h2>Everybody</h2>
      <Wide name="People">
        <table>
          <thead><tr><th>Name</th><th class="words">Role</th><th class="words">Works here</th></tr></thead>
          <tbody>{people.value.map((p) => <Line key={p.id} person={p} attempt={attempt} />)}</tbody>
        </table>
      </Wide>
      <h3>Add a person</h3>
      <form class="form" onSubmit={add}>
        <div><label for="person-name">Name</label><input id="person-name" name="name" autocomplete="off" /></div>
        <div>
          <label for="person-role">Role</label>
          <select id="person-role" name="role">{roles.map((r) => <option key={r.role} value={r.role}>{r.role}: {r.may}</option>)}</select>
        </div>
        <div><label for="person-word">First password</label><input id="person-word" name="password" type="password" autocomplete="new-password" /></div>
        {said.value && <p class="sentence" role="alert">{said.value}</p>}
        <button type="submit">Add</button>
      </form>
    </section>
  );
}

function Line(props: { person: Person; attempt: (act: () => Promise<unknown>) => Promise<void> }) {
  const { person, attempt } = props;
  const patch = (body: object) => void attempt(() => ask('PATCH', `/people/${person.id}`, body));
  return (
    <tr>
      <th class="words" scope="row">{person.name}{person.owner ? ' (owner)' : ''}</th>
      <td class="words">
        <select aria-label={`Role of ${person.name}`} value={person.role} disabled={person.owner} onChange={(e) => patch({ role: e.currentTarget.value })}>
          {roles.map((r) => <option key={r.role} value={r.role}>{r.role}</option>)}
        </select>
      </td>
      <td class="words">
        <button type="button" disabled={person.owner} onClick={() => patch({ active: !person.active })}>
          {person.active ? 'Yes. Stop the access' : 'No. Give access again'}
        </button>
      </td>
    </tr>
  );
}
