// Whether the screen is a phone's, upright or turned: the layout then changes in more than style, and a change
// makes the room anew, so turning the phone must not be one (style/layout.css asks the same).

import { useEffect, useState } from 'preact/hooks';

const narrow = matchMedia('(max-width: 640px), (pointer: coarse) and (max-height: 500px)');

export function useNarrow(): boolean {
  const [is, set] = useState(narrow.matches);
  useEffect(() => {
    const hear = () => set(narrow.matches);
    narrow.addEventListener('change', hear);
    return () => narrow.removeEventListener('change', hear);
  }, []);
  return is;
}
