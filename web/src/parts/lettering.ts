// A drawing's words are enlarged where the screen would show them smaller than can be read at arm's length, and set apart;
// where there is no room for all of them, the drawing grows beyond its frame and scrolls sideways.

import { setWordsApart } from './words_apart';

const wished = 16, onPhone = 14; // px on screen
const phone = 640; // px: a narrower window
const wide = 150; // mm of paper: on a phone such a drawing scrolls in any case
const growths = [1, 1.2, 1.45, 1.75, 2.1, 2.5, 3]; // times what the frame gives

// The least a letter may measure now, px.
export const leastNow = () => (innerWidth < phone ? onPhone : wished);

export function enlargeWords(holder: HTMLElement): void {
  const svg = holder.querySelector('svg');
  const box = svg?.viewBox.baseVal;
  if (!svg || !box || box.width <= 0) return;
  svg.classList.toggle('drawing-wide', box.width >= wide);
  grow(svg, null);
  if (svg.clientWidth === 0) return;
  const framed = Math.min(svg.clientWidth / box.width, svg.clientHeight / box.height); // px a mm
  // While something is dragged the drawing keeps the size it had.
  const before = `${holder.clientWidth}/${box.width}/${box.height}`;
  const begin = holder.dataset['grown']?.startsWith(`${before} `) ? Number(holder.dataset['grown'].split(' ')[1]) : 0;
  for (let i = begin; i < growths.length; ++i) {
    const scale = framed * growths[i]!;
    if (i > 0) grow(svg, box.width * scale);
    write(svg, framed, scale);
    const left = setWordsApart(svg);
    holder.dataset['grown'] = `${before} ${i}`;
    if (left === 0 || holder.closest('.sheet-frame') === null) break;
  }
  // What scrolls can be reached by keyboard.
  if (holder.scrollWidth > holder.clientWidth + 1) holder.tabIndex = 0;
  else holder.removeAttribute('tabindex');
}

function grow(svg: SVGSVGElement, width: number | null): void {
  svg.style.minWidth = width === null ? '' : `${Math.ceil(width)}px`;
  svg.style.maxHeight = width === null ? '' : 'none';
}

// Every word as large as it is drawn in its frame, or as it must be to be read: where the drawing grows, words get room
// and not size. `framed`, `pixels`: of a mm in the frame, and now.
function write(svg: SVGSVGElement, framed: number, pixels: number): void {
  for (const text of svg.querySelectorAll('text')) {
    const drawn = Number(text.getAttribute('data-size') ?? text.getAttribute('font-size') ?? 3);
    text.setAttribute('data-size', String(drawn));
    text.setAttribute('font-size', (Math.max(drawn * framed, leastNow() + 0.05) / pixels).toFixed(3));
  }
}
