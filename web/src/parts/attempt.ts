// What a card asks the server to do, and the sentence of its refusal.

import { useSignal } from '@preact/signals';
import { sentenceOf } from '../api/client';

export function useAttempt() {
  const said = useSignal<string | null>(null);
  // True when it was done.
  const attempt = async (act: () => Promise<unknown>): Promise<boolean> => {
    said.value = null;
    try {
      await act();
      return true;
    } catch (fault) {
      said.value = sentenceOf(fault);
      return false;
    }
  };
  return { said, attempt };
}
