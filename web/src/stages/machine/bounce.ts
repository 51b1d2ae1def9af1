// A finger that bounces ends one step, not two: a tap that comes right behind another, or before anybody can have read the
// step that has just come, is no answer to it. Keys are typed as fast as one likes.

import { useRef } from 'preact/hooks';

const bounces = 600; // ms

export function useBounce(step: string): (event: MouseEvent) => void {
  const last = useRef({ step, at: -Infinity });
  if (last.current.step !== step) last.current = { step, at: performance.now() };
  return (event) => {
    if (event.detail === 0 || !(event.target instanceof Element) || event.target.closest('.keypad, .field, select')) return; // not a tap, or not a word
    const now = performance.now();
    if (now - last.current.at >= bounces) {
      last.current.at = now;
      return;
    }
    event.preventDefault();
    event.stopPropagation();
  };
}
