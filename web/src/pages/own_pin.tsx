// My PIN for the screens at the machines.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, sentenceOf } from '../api/client';

export function OwnPin() {
  const has = useSignal(false);
  const said = useSignal<string | null>(null);
  const attempt = async (act: () => Promise<unknown>, done: string | null) => {
    said.value = null;
    try {
      await act();
      has.value = (await get<{ pin: boolean }>('/logins')).pin;
      said.value = done;
    } catch (fault) {
      said.value = sentenceOf(fault);
    }
  };
  useEffect(() => void attempt(async () => undefined, null), []);
  const submit = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    const data = new FormData(form);
    void attempt(() => ask('PUT', '/session/pin', { password: String(data.get('password')), pin: String(data.get('pin')) }), 'The PIN counts from now on.').then(() => form.reset());
  };
  return (
    <details>
      <summary>{has.value ? 'My PIN at the machines' : 'Choose a PIN for the machines'}</summary>
      <p>At screens a lead has enrolled, a name and 4 to 6 digits do. A PIN lets you do what a machinist may; for more sign in with the password.</p>
      <form class="form" onSubmit={submit}>
        <div><label for="pin-password">My password</label><input id="pin-password" name="password" type="password" autocomplete="current-password" /></div>
        <div><label for="own-pin">PIN, 4 to 6 digits</label><input id="own-pin" name="pin" type="password" inputMode="numeric" maxLength={6} autocomplete="off" /></div>
        <p role="status">{said.value}</p>
        <p class="acts">
          <button type="submit">{has.value ? 'Take another PIN' : 'Take this PIN'}</button>
          {has.value && <button type="button" onClick={() => void attempt(() => ask('DELETE', '/session/pin'), 'You have no PIN any more.')}>Do without a PIN</button>}
        </p>
      </form>
    </details>
  );
}
