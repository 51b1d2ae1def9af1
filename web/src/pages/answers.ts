// The six answers as typed, and as the server takes them: lengths as plain numbers in the units chosen.

import type { Signal } from '@preact/signals';
import type { Kind } from '../api/types';
import { parseQuantity } from '../numbers/parse';
import { mmIn, type LengthUnit, type Quantity } from '../numbers/quantity';
import { perKind } from '../state/keys';

export type Layout = 'in line' | 'two rows';
type Pair = Record<Kind, Signal<string>>;

export interface Draft {
  title: Signal<string>;
  units: Signal<LengthUnit>;
  cylinders: Signal<string>;
  spacing: Signal<string>;
  valves: Pair;
  layout: Signal<Layout>;
  first: Signal<Kind>;
  alternate: Signal<string>;
  incline: Pair;
  cant: Pair;
  headDiameter: Pair;
  stem: Pair;
  seatAngle: Pair;
  seatWidth: Pair;
}

export interface Sizes { head_diameter?: number; stem_diameter?: number; seat_angle?: number; seat_width?: number }
export interface Answers {
  title?: string;
  units: LengthUnit;
  cylinders?: number;
  bore_spacing?: number;
  valves: Record<Kind, number>;
  order: { layout: Layout; first: Kind; alternate: string };
  angles: Record<Kind, { incline?: number; cant?: number }>;
  sizes?: Partial<Record<Kind, Sizes>>;
  sure?: SaidRight[];
}
// A size the trade knows none such of, and a person said to be right; in the units chosen.
export interface SaidRight { key: string; value: number }

export function answersFrom(draft: Draft): Answers {
  const unit = draft.units.value;
  const read = (text: Signal<string>, quantity: Quantity): number | undefined => {
    const got = parseQuantity(text.value, quantity, unit);
    if (!got.ok) return undefined;
    // Twelve digits: what was typed, without the dust of the way over mm.
    return Number((quantity === 'length' ? got.value / mmIn[unit] : got.value).toPrecision(12));
  };
  const angles = (k: Kind) => defined({ incline: read(draft.incline[k], 'angle'), cant: read(draft.cant[k], 'angle') });
  const sizes = (k: Kind) => defined({
    head_diameter: read(draft.headDiameter[k], 'length'), stem_diameter: read(draft.stem[k], 'length'),
    seat_angle: read(draft.seatAngle[k], 'angle'), seat_width: read(draft.seatWidth[k], 'length'),
  });
  const sized = Object.fromEntries(Object.entries(perKind(sizes)).filter(([, s]) => s.head_diameter !== undefined));
  return defined({
    title: draft.title.value.trim() || undefined, units: unit, cylinders: read(draft.cylinders, 'plain'),
    bore_spacing: read(draft.spacing, 'length'),
    valves: perKind((k) => read(draft.valves[k], 'plain') ?? 1),
    order: { layout: draft.layout.value, first: draft.first.value, alternate: draft.alternate.value },
    angles: perKind(angles), sizes: Object.keys(sized).length > 0 ? sized : undefined,
  }) as Answers;
}

type Defined<T> = { [K in keyof T]?: Exclude<T[K], undefined> };

function defined<T extends object>(all: T): Defined<T> {
  return Object.fromEntries(Object.entries(all).filter(([, v]) => v !== undefined)) as Defined<T>;
}
