// Screens at which a PIN is taken in place of a password: enrolled by a lead who stands at them.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import { ask, get, post } from '../api/client';
import { useAttempt } from '../parts/attempt';
import { Wide } from '../parts/table';
import { when } from '../parts/when';

interface Screen { id: number; name: string; since: string; by: string; this_one: boolean }

export function Screens() {
  const all = useSignal<Screen[]>([]);
  const { said, attempt } = useAttempt(async () => { all.value = (await get<{ screens: Screen[] }>('/screens')).screens; });
  useEffect(() => void attempt(async () => undefined), []);
  const enroll = (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    void attempt(() => post('/screens', { name: String(new FormData(form).get('name')).trim() }));
  };
  return (
    <section>
      <h2>Screens at the machines</h2>
      <p>At an enrolled screen a name and a PIN do in place of a password, with a machinist’s rights.</p>
      {all.value.length > 0 && (
        <Wide name="Screens at the machines">
          <table>
            <thead><tr><th class="words">Screen</th><th class="words">Enrolled</th><th class="words" /></tr></thead>
            <tbody>
              {all.value.map((one) => (
                <tr key={one.id}>
                  <th class="words" scope="row">{one.name}{one.this_one ? ', this one' : ''}</th>
                  <td class="words">{when(one.since)} by {one.by}</td>
                  <td class="words"><button type="button" onClick={() => void attempt(() => ask('DELETE', `/screens/${one.id}`))}>Take no PINs there</button></td>
                </tr>
              ))}
            </tbody>
          </table>
        </Wide>
      )}
      {!all.value.some((one) => one.this_one) && (
        <form class="form" onSubmit={enroll}>
          <div><label for="screen-name">Name of this screen</label><input id="screen-name" name="name" maxLength={40} autocomplete="off" placeholder="mill 2" /></div>
          <button type="submit">Take PINs at this screen</button>
        </form>
      )}
      {said.value && <p class="sentence" role="alert">{said.value}</p>}
    </section>
  );
}
