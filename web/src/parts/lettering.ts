// A drawing's words are enlarged where the screen would show them smaller than can be read at arm's length; where there
// is no room for that, the drawing grows wider than its frame and scrolls sideways.

import { meet, setWordsApart } from './words_apart';

const wished = 15; // px on screen
const least = 11.5; // px: below it the drawing rather scrolls
const mostWider = 1.8; // times the frame
const wide = 150; // mm of paper: on a phone such a drawing scrolls in any case
const mostGrowth = 2.2; // more and the words run into one another
const rounds = 4;
const smallMark = 30; // px: a larger shape may have words in it

interface Lettering { texts: SVGTextElement[]; drawn: number; size: number }

export function enlargeWords(holder: HTMLElement): void {
  const svg = holder.querySelector('svg');
  const across = svg?.viewBox.baseVal.width ?? 0;
  if (!svg || across <= 0) return;
  svg.classList.toggle('drawing-wide', across >= wide);
  svg.style.minWidth = '';
  if (svg.clientWidth === 0) return;
  const smallest = fit(svg);
  if (smallest < least && holder.closest('.sheet-frame')) {
    svg.style.minWidth = `${Math.ceil(svg.clientWidth * Math.min(mostWider, least / smallest))}px`;
    fit(svg);
  }
  setWordsApart(svg);
  // What scrolls can be reached by keyboard.
  if (holder.scrollWidth > holder.clientWidth + 1) holder.tabIndex = 0;
  else holder.removeAttribute('tabindex');
}

// Writes every kind of word as large as it can be; gives the smallest, in px.
function fit(svg: SVGSVGElement): number {
  const pixels = Math.min(svg.clientWidth / svg.viewBox.baseVal.width, svg.clientHeight / svg.viewBox.baseVal.height);
  const kinds = kindsOf(svg, pixels);
  const all = [...svg.querySelectorAll('text')];
  const marks = [...svg.querySelectorAll<SVGGraphicsElement>('circle, rect, polygon, path')].filter((m) => !m.classList.contains('grip'))
    .map((m) => m.getBoundingClientRect()).filter((r) => r.width > 0 && r.width < smallMark && r.height < smallMark);
  // What would run into its neighbour or off the sheet grows less; what already touches as drawn stays so.
  for (const kind of kinds) write(kind, kind.drawn);
  const asDrawn = touching(svg, all, marks);
  for (const kind of kinds) write(kind, kind.size);
  for (let round = 1; round <= rounds; ++round) {
    const tight = new Set([...touching(svg, all, marks)].filter(([name]) => !asDrawn.has(name)).flatMap(([, pair]) => pair));
    if (tight.size === 0) break;
    for (const kind of kinds) {
      if (kind.size <= kind.drawn || !kind.texts.some((t) => tight.has(t))) continue;
      kind.size = round === rounds ? kind.drawn : kind.drawn + (kind.size - kind.drawn) / 2;
      write(kind, kind.size);
    }
  }
  return Math.min(...kinds.map((k) => k.size * pixels));
}

// Words drawn alike stay alike.
function kindsOf(svg: SVGSVGElement, pixels: number): Lettering[] {
  const kinds = new Map<string, Lettering>();
  for (const text of svg.querySelectorAll('text')) {
    const drawn = Number(text.getAttribute('data-size') ?? text.getAttribute('font-size') ?? 3);
    text.setAttribute('data-size', String(drawn));
    const name = `${drawn}/${text.getAttribute('class') ?? ''}/${text.getAttribute('font-weight') ?? ''}/${text.getAttribute('text-anchor') ?? ''}`;
    const kind = kinds.get(name) ?? { texts: [], drawn, size: Math.min(Math.max(drawn, wished / pixels), drawn * mostGrowth) };
    kind.texts.push(text);
    kinds.set(name, kind);
  }
  return [...kinds.values()];
}

function write(kind: Lettering, size: number): void {
  for (const text of kind.texts) text.setAttribute('font-size', size.toFixed(3));
}

// The words that touch one another, a small mark or the sheet's edge, by a name for each such pair.
function touching(svg: SVGSVGElement, words: SVGTextElement[], marks: DOMRect[]): Map<string, SVGTextElement[]> {
  const sheet = svg.getBoundingClientRect();
  const boxes = words.map((text) => text.getBoundingClientRect());
  const found = new Map<string, SVGTextElement[]>();
  boxes.forEach((a, i) => {
    const text = words[i];
    if (!text || a.width === 0) return;
    if (a.right > sheet.right || a.left < sheet.left) found.set(`${i}`, [text]);
    for (let k = i + 1; k < boxes.length; ++k) {
      const [b, other] = [boxes[k], words[k]];
      if (b && other && meet(a, b)) found.set(`${i}/${k}`, [text, other]);
    }
    marks.forEach((mark, m) => {
      if (meet(a, mark)) found.set(`${i}/mark ${m}`, [text]);
    });
  });
  return found;
}
