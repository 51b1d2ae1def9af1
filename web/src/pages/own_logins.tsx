// Where I am logged in, each to be ended; and for a lead a second thing to be asked for at login.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post, sentenceOf, session } from '../api/client';
import { Wide } from '../parts/table';
import { when } from '../parts/when';

interface Login {
  id: string;
  used: string;
  address: string;
  this_one: boolean;
}

export function OwnLogins() {
  const logins = useSignal<Login[]>([]);
  const second = useSignal(false);
  const said = useSignal<string | null>(null);
  const attempt = async (act: () => Promise<unknown>) => {
    said.value = null;
    try {
      await act();
      const now = await get<{ logins: Login[]; second_factor: boolean }>('/logins');
      logins.value = now.logins;
      second.value = now.second_factor;
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  useEffect(() => void attempt(async () => undefined), []);
  return (
    <details>
      <summary>Where I am logged in</summary>
      <Wide name="Where I am logged in">
        <table>
          <thead><tr><th class="words">From</th><th class="words">Last used</th><th class="words" /></tr></thead>
          <tbody>
            {logins.value.map((one) => (
              <tr key={one.id}>
                <th class="words" scope="row">{one.address || 'not known'}</th>
                <td class="words">{when(one.used)}</td>
                <td class="words">
                  {one.this_one ? 'here' : <button type="button" onClick={() => void attempt(() => ask('DELETE', `/logins/${one.id}`))}>end it</button>}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Wide>
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
      {session.value?.person?.role === 'lead' && <SecondFactor on={second.value} changed={() => void attempt(async () => undefined)} />}
    </details>
  );
}

// Three steps: my password, the secret into the device, a code back.
function SecondFactor(props: { on: boolean; changed: () => void }) {
  const secret = useSignal<string | null>(null);
  const codes = useSignal<string[]>([]);
  const said = useSignal<string | null>(null);
  const submit = (act: (word: string) => Promise<unknown>) => async (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    said.value = null;
    try {
      await act(String(new FormData(form).get('word') ?? ''));
      form.reset();
      props.changed();
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  const begin = submit(async (password) => { secret.value = (await post<{ secret: string }>('/session/second-factor', { password })).secret; });
  const confirm = submit(async (code) => {
    codes.value = (await ask<{ codes: string[] }>('PUT', '/session/second-factor', { code })).codes;
    secret.value = null;
  });
  const end = submit(async (password) => {
    await ask('DELETE', '/session/second-factor', { password });
    codes.value = [];
  });
  const word = (label: string, kind: string) => <div><label for="second-word">{label}</label><input id="second-word" name="word" type={kind} autocomplete="off" /></div>;
  return (
    <section>
      <h3>Second factor</h3>
      {codes.value.length > 0 && <p>Write these down. Each works once, for when the device is not at hand: <b>{codes.value.join(', ')}</b></p>}
      {secret.value !== null ? (
        <form class="form" onSubmit={(e) => void confirm(e)}>
          <p>Type this into the device that shows codes (by the clock, six digits, 30 s): <b>{secret.value}</b></p>
          {word('The code it shows', 'text')}
          <button type="submit">Ask for it from now on</button>
        </form>
      ) : (
        <form class="form" onSubmit={(e) => void (props.on ? end : begin)(e)}>
          <p>{props.on ? 'At login a code is asked for too.' : 'At login only the password is asked for.'}</p>
          {word('My password', 'password')}
          <button type="submit">{props.on ? 'Stop asking for a code' : 'Ask for a code too'}</button>
        </form>
      )}
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
    </section>
  );
}
