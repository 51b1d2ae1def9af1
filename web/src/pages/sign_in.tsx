// Who is there: the first owner of a new store, or signing in.

import { useState } from 'preact/hooks';
import { post, Refusal, sentenceOf, session } from '../api/client';
import { WaitsFor } from '../parts/unsent';
import { noteServerTime } from '../state/clock';
import type { Session } from '../api/types';

const leastPassword = 10; // characters, as the server asks

interface DoorProps {
  heading: string;
  words: string;
  act: string;
  path: '/owner' | '/session';
  twice: boolean;
}

function Door(props: DoorProps) {
  const [sentence, setSentence] = useState<string | null>(null);
  const [codeAsked, setCodeAsked] = useState(false);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    const field = (name: string) => String(form.get(name) ?? '');
    if (field('name').trim() === '') return setSentence('Type your name.');
    if (props.twice && field('password').length < leastPassword)
      return setSentence(`A password has ${leastPassword} or more characters; a short sentence is easy to remember.`);
    if (props.twice && field('password') !== field('again')) return setSentence('The two passwords differ.');
    try {
      session.value = await post<Session>(props.path, {
        name: field('name').trim(), password: field('password'), ...(codeAsked ? { code: field('code').trim() } : {}),
      });
      noteServerTime(session.value.now);
    } catch (fault) {
      if (fault instanceof Refusal && fault.body.second_factor) setCodeAsked(true);
      setSentence(sentenceOf(fault));
    }
  };
  return (
    <main class="alone">
      <h1>{props.heading}</h1>
      <p>{props.words}</p>
      <WaitsFor />
      <form class="form" onSubmit={(e) => void submit(e)} noValidate>
        <div>
          <label for="name">Your name</label>
          <input id="name" name="name" autocomplete="username" />
        </div>
        <div>
          <label for="password">Password</label>
          <input id="password" name="password" type="password" autocomplete={props.twice ? 'new-password' : 'current-password'} />
        </div>
        {codeAsked && (
          <div>
            <label for="code">Code of the second factor, or one written down</label>
            <input id="code" name="code" inputMode="numeric" autocomplete="one-time-code" />
          </div>
        )}
        {props.twice && (
          <div>
            <label for="again">The password once more</label>
            <input id="again" name="again" type="password" autocomplete="new-password" />
          </div>
        )}
        {sentence && <p class="sentence" role="alert">{sentence}</p>}
        <button type="submit" class="main-act">{props.act}</button>
      </form>
      {session.value?.warning && <p>{session.value.warning}</p>}
    </main>
  );
}

export const FirstOwner = () => (
  <Door heading="Seatwright, first start" path="/owner" act="Make this workbench mine" twice
        words="Nobody owns this workbench yet. The owner may change the shelf and the limits, and adds the others." />
);
export function SignIn() {
  const [password, setPassword] = useState(false);
  const screen = session.value?.screen;
  const withPassword = <Door heading="Seatwright" path="/session" act="Sign in" twice={false} words="Every entry is kept with who made it and when." />;
  if (!screen || screen.people.length === 0) return withPassword;
  if (password) return <>{withPassword}<p class="alone-beside"><button type="button" onClick={() => setPassword(false)}>With a PIN</button></p></>;
  return <ByPin name={screen.name} people={screen.people} password={() => setPassword(true)} />;
}

// At the machine: a tap on the name, then the digits; gloves do not type passwords.
function ByPin(props: { name: string; people: string[]; password: () => void }) {
  const [who, setWho] = useState<string | null>(null);
  const [sentence, setSentence] = useState<string | null>(null);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    const form = event.currentTarget as HTMLFormElement;
    try {
      session.value = await post<Session>('/session/pin', { name: who, pin: String(new FormData(form).get('pin') ?? '') });
      noteServerTime(session.value.now);
    } catch (fault) {
      form.reset();
      setSentence(sentenceOf(fault));
      if (fault instanceof Refusal && fault.body.password_needed) props.password();
    }
  };
  return (
    <main class="alone">
      <h1>Who is at {props.name}?</h1>
      <WaitsFor />
      <ul class="who">
        {props.people.map((name) => <li key={name}><button type="button" class="big" aria-pressed={name === who} onClick={() => { setWho(name); setSentence(null); }}>{name}</button></li>)}
      </ul>
      {who !== null && (
        <form class="form" onSubmit={(e) => void submit(e)} noValidate>
          <div>
            <label for="pin">PIN of {who}</label>
            <input key={who} id="pin" name="pin" type="password" inputMode="numeric" autocomplete="off" maxLength={6} autofocus />
          </div>
          {sentence && <p class="sentence" role="alert">{sentence}</p>}
          <button type="submit" class="main-act big">Begin</button>
        </form>
      )}
      <p><button type="button" onClick={props.password}>With a password</button></p>
      {session.value?.warning && <p>{session.value.warning}</p>}
    </main>
  );
}
