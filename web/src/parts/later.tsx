// What is seldom needed comes as a file of its own: fetched when it is first asked for, and, since the network may be away
// by then, all of it once the page has come to rest. The service worker keeps these files with the page.

import { signal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect } from 'preact/hooks';

const all: (() => Promise<void>)[] = [];
const restAfter = 4_000; // ms: what was asked for has been drawn by then

// `at`: an address that needs it at once, so that it does not wait for the page to ask.
export function later<P extends object>(load: () => Promise<ComponentType<P>>, at?: RegExp): ComponentType<P> {
  const part = signal<ComponentType<P> | null>(null);
  const missing = signal(false);
  let under: Promise<void> | undefined;
  const fetchIt = () => (under ??= load().then(
    (found) => { part.value = found; missing.value = false; },
    () => { under = undefined; missing.value = true; },
  ));
  all.push(fetchIt);
  if (at?.test(location.hash)) void fetchIt();
  return function Later(props: P) {
    useEffect(() => { void fetchIt(); }, []);
    const Part = part.value;
    if (Part) return <Part {...props} />;
    if (!missing.value) return <p role="status" data-later>One moment.</p>;
    return <p role="status">This part of the page is not here yet and the network is away. <button type="button" onClick={() => void fetchIt()}>Try again</button></p>;
  };
}

export function fetchTheRest(): void {
  setTimeout(() => void all.reduce((before, next) => before.then(next), Promise.resolve()), restAfter);
}
