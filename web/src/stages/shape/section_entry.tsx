// The worn section of a seat, point by point: lines of radius and height, typed as lines, or each point from its two fields,
// into which a gauge reads.

import type { Signal } from '@preact/signals';
import { useRef } from 'preact/hooks';
import { takenWords } from '../../entry/taken';
import { parseQuantity } from '../../numbers/parse';
import { written } from '../../numbers/written';
import { Field } from '../../parts/field';
import { LiveReading } from '../../parts/live_reading';
import { shown } from '../../state/open_job';
import { linesOf, withPoint } from './section_points';

interface Props {
  section: Signal<string>; // a point a line
  sources: Signal<string>; // of points that a feed gave: the point's line, a tab, from where
  radius: Signal<string>;
  height: Signal<string>;
}

export function SectionEntry({ section, sources, radius, height }: Props) {
  const id = 'seat-section';
  const box = useRef<HTMLDivElement>(null);
  const focus = (i: number) => box.current?.querySelectorAll<HTMLInputElement>('.field input')[i]?.focus();
  const add = () => {
    const [r, z] = [radius, height].map((t) => parseQuantity(t.value, 'length', shown.value));
    if (!r?.ok) return focus(0);
    if (!z?.ok) return focus(1);
    const point = `${written(r, 'length')} ${written(z, 'length')}`;
    const from = takenWords([radius, height]);
    if (from !== '') sources.value = [...linesOf(sources.value), `${point}\t${from}`].join('\n');
    section.value = withPoint(section.value, point);
    [radius.value, height.value] = ['', ''];
    focus(0);
  };
  return (
    <div ref={box}>
      <p>Height 0 at the gauge circle of the seat to be cut, up towards the spindle: what is worn reads below.</p>
      <div class="pair">
        <Field label="Radius of the point" text={radius} quantity="length" unit={shown.value} optional onEnter={() => focus(1)} />
        <Field label="Height of the point" text={height} quantity="length" unit={shown.value} optional onEnter={add} />
      </div>
      <LiveReading entry="section" unit={shown.value} onTaken={([key]) => focus(key === 'radius' ? 0 : 1)}
                   fields={[{ key: 'radius', label: 'radius', text: radius, quantity: 'length' }, { key: 'height', label: 'height', text: height, quantity: 'length' }]} />
      <p class="acts"><button type="button" onClick={add}>Add the point</button></p>
      <label for={id}>Radius and height, one point a line</label>
      <textarea id={id} value={section.value} spellcheck={false} onInput={(e) => { section.value = e.currentTarget.value; }} />
      <p>Two numbers a line, in {shown.value} or with a unit.</p>
    </div>
  );
}
