// How wide the box a drawing stands in is, px, as it changes; 0 until it is known.

import { useEffect, useRef, useState } from 'preact/hooks';

export function useWidth() {
  const box = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const watch = new ResizeObserver(() => setWidth(holder.clientWidth));
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  return { box, width };
}
