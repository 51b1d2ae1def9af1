// No word of a drawing over another, and none beyond its frame: what touches is moved a little, off the small marks where that
// can be. How many found no place is handed back; they are left out (the numbers stand in the tables and in the list of
// figures).

const leading = 0.13; // of a line's height, above and below the letters themselves
const steps = [0.6, 1, 1.5, 2.1]; // of the word's own height
const ways = [[0, -1], [0, 1], [1, 0], [-1, 0], [1, -1], [-1, -1], [1, 1], [-1, 1]] as const;
const smallMark = 30; // px: a larger shape may have words in it

interface Word { text: SVGTextElement; box: DOMRect }

export function setWordsApart(svg: SVGSVGElement): number {
  const scale = svg.getScreenCTM()?.a ?? 0;
  if (scale <= 0) return 0;
  const texts = [...svg.querySelectorAll('text')];
  for (const text of texts) {
    const own = text.getAttribute('data-own-transform') ?? text.getAttribute('transform') ?? '';
    text.setAttribute('data-own-transform', own);
    place(text, 0, 0);
    text.removeAttribute('visibility');
  }
  const frame = svg.getBoundingClientRect();
  const words = texts.map((text) => ({ text, box: text.getBoundingClientRect() })).filter((w) => w.box.width > 0);
  const tight = words.some((w, i) => !inside(w.box, frame) || words.slice(i + 1).some((v) => meet(w.box, v.box)));
  if (!tight) return 0;
  const marks = [...svg.querySelectorAll<SVGGraphicsElement>('circle, rect, polygon, path')].filter((m) => !m.classList.contains('grip'))
    .map((m) => m.getBoundingClientRect()).filter((r) => r.width > 0 && r.width < smallMark && r.height < smallMark);
  const placed: Word[] = [];
  let left = 0;
  // Long words are harder to move: they stand first.
  for (const word of words.sort((a, b) => b.box.width - a.box.width)) {
    if (settle(word, placed, marks, frame, scale)) placed.push(word);
    else {
      word.text.setAttribute('visibility', 'hidden');
      left += 1;
    }
  }
  return left;
}

function settle(word: Word, placed: Word[], marks: DOMRect[], frame: DOMRect, scale: number): boolean {
  const free = (box: DOMRect) => inside(box, frame) && !placed.some((p) => meet(box, p.box));
  if (free(word.box)) return true;
  const clear = (box: DOMRect) => !marks.some((m) => meet(box, m));
  const h = word.box.height;
  const moved = steps.flatMap((s) => ways.map(([x, y]) => ({ x: x * s * h, y: y * s * h, box: new DOMRect(word.box.x + x * s * h, word.box.y + y * s * h, word.box.width, h) })))
    .concat(pushedIn(word.box, frame)).filter((m) => free(m.box));
  const best = moved.find((m) => clear(m.box)) ?? moved[0];
  if (!best) return false;
  place(word.text, best.x / scale, best.y / scale);
  word.box = best.box;
  return true;
}

// A word that stands beyond the frame: just inside it, on its own line and on the next ones.
function pushedIn(box: DOMRect, frame: DOMRect): { x: number; y: number; box: DOMRect }[] {
  const x = Math.max(frame.left - box.left, 0) + Math.min(frame.right - box.right, 0);
  const y = Math.max(frame.top - box.top, 0) + Math.min(frame.bottom - box.bottom, 0);
  return [0, -1, 1, -2, 2].map((line) => ({ x, y: y + line * box.height, box: new DOMRect(box.x + x, box.y + y + line * box.height, box.width, box.height) }));
}

function place(text: SVGTextElement, dx: number, dy: number): void {
  const own = text.getAttribute('data-own-transform') ?? '';
  const moved = dx === 0 && dy === 0 ? own : `translate(${dx.toFixed(2)} ${dy.toFixed(2)}) ${own}`.trim();
  if (moved === '') text.removeAttribute('transform');
  else text.setAttribute('transform', moved);
}

const inside = (a: DOMRect, frame: DOMRect) => a.left >= frame.left - 0.5 && a.right <= frame.right + 0.5 && a.top >= frame.top - 0.5 && a.bottom <= frame.bottom + 0.5;

function meet(a: DOMRect, b: DOMRect): boolean {
  if (b.left >= a.right || b.right <= a.left) return false;
  const give = leading * Math.min(a.height, b.height);
  return b.top + give < a.bottom - give && b.bottom - give > a.top + give;
}
