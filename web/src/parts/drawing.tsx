// A drawing of the server, placed in the page: the same SVG the papers are made of. Its words are enlarged
// where the screen would show them smaller than can be read at arm's length.

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { getText, sentenceOf, serverAway } from '../api/client';
import { keepAnswer, keptAnswer } from '../entry/disk';

const leastPixels = 15; // of a drawing's words on screen
const wide = 150; // mm of paper: on a phone such a drawing scrolls sideways rather than shrink
const mostGrowth = 2.2; // more and the words run into one another

interface InkProps {
  svg: string;
  label?: string;
  onDown?: (event: PointerEvent, svg: SVGSVGElement) => void;
  onPick?: (name: string) => void; // a named thing in the drawing was touched
}

export function Ink(props: InkProps) {
  const box = useRef<HTMLDivElement>(null);
  const grips = useRef(false);
  grips.current = props.onDown !== undefined;
  useLayoutEffect(() => {
    const holder = box.current;
    if (!holder) return;
    const parsed = new DOMParser().parseFromString(props.svg, 'image/svg+xml').documentElement;
    if (parsed.nodeName !== 'svg') return;
    // Ids of several drawings in one page would clash, and a drawing carries no scripts.
    for (const node of [parsed, ...parsed.querySelectorAll('*')]) {
      node.removeAttribute('id');
      node.removeAttribute('style');
    }
    for (const node of parsed.querySelectorAll('script, style, foreignObject')) node.remove();
    parsed.removeAttribute('width');
    parsed.removeAttribute('height');
    parsed.classList.add('drawing');
    if (grips.current) widenGrips(parsed);
    holder.replaceChildren(document.importNode(parsed, true));
    enlargeWords(holder);
  }, [props.svg]);
  useEffect(() => {
    const holder = box.current;
    if (!holder) return undefined;
    const watch = new ResizeObserver(() => enlargeWords(holder));
    watch.observe(holder);
    return () => watch.disconnect();
  }, []);

  const down = (event: PointerEvent) => {
    const svg = box.current?.querySelector('svg');
    if (svg && props.onDown) props.onDown(event, svg);
  };
  const pick = (event: MouseEvent) => {
    const named = (event.target as Element).closest('[data-name]');
    const name = named?.getAttribute('data-name');
    if (name && props.onPick) props.onPick(name);
  };
  return (
    <div
      ref={box}
      class={`ink${props.onDown ? ' ink-drag' : ''}${props.onPick ? ' ink-pick' : ''}`}
      onPointerDown={props.onDown ? down : undefined}
      onClick={props.onPick ? pick : undefined}
    />
  );
}

// A named line or bar can be taken by a finger: a broad unseen one under it takes the touch.
function widenGrips(svg: Element): void {
  for (const line of svg.querySelectorAll('[data-name] line, [data-name] polygon')) {
    const grip = line.cloneNode() as Element;
    grip.setAttribute('class', 'grip');
    line.parentNode?.insertBefore(grip, line);
  }
}

function enlargeWords(holder: HTMLElement): void {
  const svg = holder.querySelector('svg');
  const across = svg?.viewBox.baseVal.width ?? 0;
  if (!svg || across <= 0 || svg.clientWidth === 0) return;
  svg.classList.toggle('drawing-wide', across >= wide);
  // What scrolls can be reached by keyboard.
  if (holder.scrollWidth > holder.clientWidth + 1) holder.tabIndex = 0;
  else holder.removeAttribute('tabindex');
  const pixels = Math.min(svg.clientWidth / across, svg.clientHeight / svg.viewBox.baseVal.height);
  const kinds = new Map<string, Lettering>(); // words drawn alike stay alike
  for (const text of svg.querySelectorAll('text')) {
    const drawn = Number(text.getAttribute('data-size') ?? text.getAttribute('font-size') ?? 3);
    text.setAttribute('data-size', String(drawn));
    const name = `${drawn}/${text.getAttribute('class') ?? ''}/${text.getAttribute('font-weight') ?? ''}/${text.getAttribute('text-anchor') ?? ''}`;
    const kind = kinds.get(name) ?? { texts: [], drawn, size: Math.min(Math.max(drawn, leastPixels / pixels), drawn * mostGrowth) };
    kind.texts.push(text);
    kinds.set(name, kind);
  }
  // What would run into its neighbour or off the sheet grows less; what already touches as drawn stays so.
  const all = [...svg.querySelectorAll('text')];
  for (const kind of kinds.values()) write(kind, kind.drawn);
  const asDrawn = touching(svg, all);
  for (const kind of kinds.values()) write(kind, kind.size);
  for (let round = 1; round <= rounds; ++round) {
    const tight = new Set([...touching(svg, all)].filter(([name]) => !asDrawn.has(name)).flatMap(([, pair]) => pair));
    if (tight.size === 0) break;
    for (const kind of kinds.values()) {
      if (kind.size <= kind.drawn || !kind.texts.some((t) => tight.has(t))) continue;
      kind.size = round === rounds ? kind.drawn : kind.drawn + (kind.size - kind.drawn) / 2;
      write(kind, kind.size);
    }
  }
}

interface Lettering { texts: SVGTextElement[]; drawn: number; size: number }

function write(kind: Lettering, size: number): void {
  for (const text of kind.texts) text.setAttribute('font-size', size.toFixed(3));
}

const rounds = 4;
const leading = 0.13; // of a line's height, above and below the letters themselves

// The words that touch one another or the sheet's edge, by a name for each such pair.
function touching(svg: SVGSVGElement, words: SVGTextElement[]): Map<string, SVGTextElement[]> {
  const sheet = svg.getBoundingClientRect();
  const boxes = words.map((text) => text.getBoundingClientRect());
  const found = new Map<string, SVGTextElement[]>();
  boxes.forEach((a, i) => {
    const text = words[i];
    if (!text || a.width === 0) return;
    if (a.right > sheet.right || a.left < sheet.left) found.set(`${i}`, [text]);
    for (let k = i + 1; k < boxes.length; ++k) {
      const b = boxes[k];
      const other = words[k];
      if (!b || !other || b.left >= a.right || b.right <= a.left) continue;
      const give = leading * Math.min(a.height, b.height);
      if (b.top + give < a.bottom - give && b.bottom - give > a.top + give) found.set(`${i}/${k}`, [text, other]);
    }
  });
  return found;
}

interface DrawingProps extends Omit<InkProps, 'svg'> {
  address: string; // under /api, query included
  fresh: number; // fetch anew when this changes
  instead?: string | undefined; // an SVG to show in its place, while something is dragged
  loading?: 'lazy';
}

export function Drawing({ address, fresh, instead, ...ink }: DrawingProps) {
  const [svg, setSvg] = useState<string | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  useEffect(() => {
    let gone = false;
    getText(address)
      .then((text) => {
        if (gone) return;
        setSvg(text);
        setFault(null);
        void keepAnswer(address, text);
      })
      .catch(async (why: unknown) => {
        const old = serverAway.value ? await keptAnswer<string>(address) : undefined;
        if (gone) return;
        if (old !== undefined) setSvg(old);
        else {
          setSvg(null);
          setFault(sentenceOf(why));
        }
      });
    return () => {
      gone = true;
    };
  }, [address, fresh]);
  const now = instead ?? svg;
  if (now !== null) return <Ink svg={now} {...ink} />;
  return <div class="ink ink-none">{fault ?? ''}</div>;
}
