// No word of a drawing over another, and none beyond its frame: what still touches after the lettering has found its size
// is moved a little, else written smaller, else left out (the numbers stand in the tables and in the list of figures).

const leading = 0.13; // of a line's height, above and below the letters themselves
const steps = [0.6, 1, 1.5, 2.1]; // of the word's own height
const smallest = 10.5; // px

interface Word { text: SVGTextElement; box: DOMRect }

export function setWordsApart(svg: SVGSVGElement): void {
  const scale = svg.getScreenCTM()?.a ?? 0;
  if (scale <= 0) return;
  const texts = [...svg.querySelectorAll('text')];
  for (const text of texts) {
    const own = text.getAttribute('data-own-transform') ?? text.getAttribute('transform') ?? '';
    text.setAttribute('data-own-transform', own);
    place(text, 0, 0);
    text.removeAttribute('visibility');
  }
  const frame = svg.getBoundingClientRect();
  const placed: Word[] = [];
  // Long words are harder to move: they stand first.
  for (const word of texts.map((text) => ({ text, box: text.getBoundingClientRect() })).filter((w) => w.box.width > 0).sort((a, b) => b.box.width - a.box.width)) {
    settle(word, placed, frame, scale);
    if (word.text.getAttribute('visibility') !== 'hidden') placed.push(word);
  }
}

function settle(word: Word, placed: Word[], frame: DOMRect, scale: number): void {
  const free = (box: DOMRect) => inside(box, frame) && !placed.some((p) => meet(box, p.box));
  if (free(word.box)) return;
  for (;;) {
    const h = word.box.height;
    for (const s of steps) {
      for (const [x, y] of [[0, -1], [0, 1], [1, 0], [-1, 0], [1, -1], [-1, -1], [1, 1], [-1, 1]] as const) {
        const moved = new DOMRect(word.box.x + x * s * h, word.box.y + y * s * h, word.box.width, h);
        if (!free(moved)) continue;
        place(word.text, (x * s * h) / scale, (y * s * h) / scale);
        word.box = moved;
        return;
      }
    }
    const size = Number(word.text.getAttribute('font-size') ?? 0);
    if (size * scale * 0.85 < smallest) break;
    word.text.setAttribute('font-size', (size * 0.85).toFixed(3));
    word.box = word.text.getBoundingClientRect();
    if (free(word.box)) return;
  }
  word.text.setAttribute('visibility', 'hidden');
}

function place(text: SVGTextElement, dx: number, dy: number): void {
  const own = text.getAttribute('data-own-transform') ?? '';
  const moved = dx === 0 && dy === 0 ? own : `translate(${dx.toFixed(2)} ${dy.toFixed(2)}) ${own}`.trim();
  if (moved === '') text.removeAttribute('transform');
  else text.setAttribute('transform', moved);
}

const inside = (a: DOMRect, frame: DOMRect) => a.left >= frame.left - 0.5 && a.right <= frame.right + 0.5 && a.top >= frame.top - 0.5 && a.bottom <= frame.bottom + 0.5;

export function meet(a: DOMRect, b: DOMRect): boolean {
  if (b.left >= a.right || b.right <= a.left) return false;
  const give = leading * Math.min(a.height, b.height);
  return b.top + give < a.bottom - give && b.bottom - give > a.top + give;
}
