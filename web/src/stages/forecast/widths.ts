// How wide the drawings' places are, in mm of paper on which letters of 2.5 mm stand as high as they must to be read
// (parts/lettering): the server draws for the room there is, so that nothing shrinks below that.

import { useSignal, type Signal } from '@preact/signals';
import { useEffect, useRef } from 'preact/hooks';
import { leastNow } from '../../parts/lettering';
import type { Room } from './ask';

const letters = 2.5; // mm
const around = 24; // px: frame and margin of a drawing
const least = 40, most = 400; // mm: what the server draws

export function useRoom(): { box: { current: HTMLDivElement | null }; room: Signal<Room | null> } {
  const box = useRef<HTMLDivElement>(null);
  const room = useSignal<Room | null>(null);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const measure = () => {
      const pixels = leastNow() / letters; // a mm
      const of = (name: string) => {
        const place = holder.querySelector<HTMLElement>(`[data-room=${name}]`);
        const columns = place && (name === 'spread' || name === 'lower') ? getComputedStyle(place).gridTemplateColumns.split(' ').length : 1;
        return Math.round(Math.min(most, Math.max(least, ((place?.clientWidth ?? 0) / columns - around) / pixels)));
      };
      const now = { spread: of('spread'), lower: of('lower'), causes: of('causes'), changes: of('changes'), by_head: of('by_head') };
      if (JSON.stringify(now) !== JSON.stringify(room.peek())) room.value = now;
    };
    const watch = new ResizeObserver(measure);
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);
  return { box, room };
}
