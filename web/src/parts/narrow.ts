// Whether the screen is a phone's: the layout then changes in more than style.

import { useEffect, useState } from 'preact/hooks';

const narrow = matchMedia('(max-width: 640px)');

export function useNarrow(): boolean {
  const [is, set] = useState(narrow.matches);
  useEffect(() => {
    const hear = () => set(narrow.matches);
    narrow.addEventListener('change', hear);
    return () => narrow.removeEventListener('change', hear);
  }, []);
  return is;
}
