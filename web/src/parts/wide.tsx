// A table that may be wider than the screen: it scrolls by itself, and then can be reached and scrolled by
// keyboard too.

import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

export function Wide(props: { name: string; children: ComponentChildren }) {
  const box = useRef<HTMLDivElement>(null);
  const [scrolls, setScrolls] = useState(false);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const measure = () => setScrolls(holder.scrollWidth > holder.clientWidth + 1);
    const watch = new ResizeObserver(measure);
    watch.observe(holder);
    for (const child of holder.children) watch.observe(child);
    return () => watch.disconnect();
  }, []);
  return (
    <div ref={box} class="wide" {...(scrolls ? { tabIndex: 0, role: 'region', 'aria-label': props.name } : {})}>
      {props.children}
    </div>
  );
}
