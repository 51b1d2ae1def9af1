// A drawing of the server, placed in the page: the same SVG the papers are made of.

import { useEffect, useLayoutEffect, useRef, useState } from 'preact/hooks';
import { getText, sentenceOf, serverAway } from '../api/client';
import { keepAnswer, keptAnswer } from '../entry/disk';
import { trueMinus } from '../numbers/show';
import { enlargeWords } from './lettering';

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
    for (const words of parsed.querySelectorAll('text, title, desc')) if (words.textContent) words.textContent = trueMinus(words.textContent);
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
        keepAnswer(address, text);
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
