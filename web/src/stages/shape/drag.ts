// Dragging a facet on the drawing itself: the group named after the facet is taken by its outer end, and the width follows
// the hand along the facet. The scale is read off the drawing: the group is as long as the facet is wide.

import type { Job, Kind } from '../../api/types';
import { showLength } from '../../numbers/show';
import { mayChange } from '../../state/may';
import { shown } from '../../state/open_job';
import { facetsOf } from './facet_list';
import type { Keep, Look } from './facets';

const narrowest = 0.1; // mm

export function dragFacet(down: PointerEvent, svg: SVGSVGElement, job: Job, kind: Kind, look: Look, keep: Keep): void {
  const named = (down.target as Element).closest('[data-name]');
  const facet = facetsOf(job, kind).find((f) => f.name === named?.getAttribute('data-name'));
  if (!named || !facet || facet.width === null || facet.angle === null || !mayChange(facet.widthKey) || !svg.contains(named)) return;
  const box = (named as SVGGraphicsElement).getBBox(); // of the lines themselves, however thick they are drawn
  const scale = svg.getScreenCTM()?.a ?? 0;
  const pixels = Math.hypot(box.width, box.height) * scale;
  if (pixels < 1) return;
  const perPixel = facet.width / pixels;
  const angle = (facet.angle * Math.PI) / 180;
  const from = { x: down.clientX, y: down.clientY };
  let width = facet.width;
  const edits = () => [{ key: facet.widthKey, value: showLength(width, shown.value) }];
  const move = (e: PointerEvent) => {
    // Outward and up the slope: radius is to the right, the spindle upwards.
    const along = (e.clientX - from.x) * Math.cos(angle) - (e.clientY - from.y) * Math.sin(angle);
    const inward = facet.name.startsWith('throat') ? -1 : 1;
    width = Math.max(narrowest, (facet.width ?? 0) + inward * along * perPixel);
    look(edits());
  };
  follow(down, move, () => {
    if (Math.abs(width - (facet.width ?? 0)) > 0.0005) keep(edits(), `${kind} ${facet.words}: width`);
  });
}

// Hears the pointer until it is let go, wherever it goes; the drawing under it may be drawn anew meanwhile.
export function follow(down: PointerEvent, move: (e: PointerEvent) => void, end: () => void): void {
  const up = () => {
    removeEventListener('pointermove', move);
    removeEventListener('pointerup', up);
    removeEventListener('pointercancel', up);
    end();
  };
  addEventListener('pointermove', move);
  addEventListener('pointerup', up);
  addEventListener('pointercancel', up);
  down.preventDefault();
}
