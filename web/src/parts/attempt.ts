// What a card asks the server to do, and the sentence of its refusal.

import { useSignal } from '@preact/signals';
import { sentenceOf } from '../api/client';

// `after`: what is fetched anew when it was done.
export function useAttempt(after?: () => Promise<unknown>) {
  const said = useSignal<string | null>(null);
  // True when it was done.
  const attempt = async (act: () => Promise<unknown>): Promise<boolean> => {
    said.value = null;
    try {
      await act();
      await after?.();
      return true;
    } catch (fault) {
      said.value = sentenceOf(fault);
      return false;
    }
  };
  return { said, attempt };
}
