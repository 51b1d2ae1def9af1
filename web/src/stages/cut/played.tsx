// The way of the tool over the head in its outline, played seat by seat or stepped by hand: each seat by how far it is, those
// no file has marked as held back. A tap on a seat goes to it.

import { useSignal } from '@preact/signals';
import { useEffect } from 'preact/hooks';
import type { CutResult, Setup } from '../../api/types';
import { showLength } from '../../numbers/show';
import { headHere, job, shown, state } from '../../state/open_job';
import { walkHere } from '../../state/walk_here';
import { mapData, type MapData } from '../map/data';
import { GuideMap } from '../map/guide_map';
import { seatsNow } from '../map/seats_now';

const pause = 900; // ms at a seat while it plays

export function PlayedPath(props: { result: CutResult | null | undefined; held: Setup }) {
  const { result, held } = props;
  const head = headHere.value;
  const at = useSignal<number | null>(null); // the seat shown, counted in the order of work; null: none yet
  const playing = useSignal(false);
  const order = wayOf(result, held);
  const last = order.length - 1;
  const go = (to: number) => { at.value = Math.min(Math.max(to, 0), last); };
  useEffect(() => { at.value = null; playing.value = false; }, [held.id, head, order.join()]);
  useEffect(() => {
    if (!playing.value) return undefined;
    const timer = setInterval(() => {
      if ((at.peek() ?? -1) >= last) playing.value = false;
      else go((at.peek() ?? -1) + 1);
    }, pause);
    return () => clearInterval(timer);
  }, [playing.value, last]);
  const play = () => {
    if (!playing.value && (at.value ?? -1) >= last) at.value = null;
    if (!playing.value && at.value === null) go(0);
    playing.value = !playing.value;
  };
  const now = at.value === null ? null : order[at.value] ?? null;
  const data = drawn(head, held, order, result);
  return (
    <figure class="sheet-frame" data-drawing="played">
      <GuideMap data={data} next={now} open="to cut" title={`The way of the tool over setup ${held.id}`} way={{ order, gone: at.value ?? 0 }}
                pick={(valve) => { if (order.includes(valve)) go(order.indexOf(valve)); }} />
      <figcaption>
        {last >= 0 && (
          <p class="acts no-print">
            <button type="button" aria-pressed={playing.value} onClick={play}>{playing.value ? 'Stop' : 'Play the path'}</button>
            <button type="button" disabled={at.value === null || at.value <= 0} onClick={() => go((at.value ?? 0) - 1)}>Seat before</button>
            <button type="button" disabled={(at.value ?? -1) >= last} onClick={() => go((at.value ?? -1) + 1)}>Next seat</button>
          </p>
        )}
        <p role="status" data-played={now ?? ''}>{now === null ? whole(order) : sentenceAt(now, at.value ?? 0, order.length, data)}</p>
        <Legend />
      </figcaption>
    </figure>
  );
}

// The seats of a setup in the order they are machined.
function wayOf(result: CutResult | null | undefined, held: Setup): string[] {
  const here = new Set(held.valves.map((v) => v.id));
  const back = new Set(result?.held_back.filter((h) => h.setup === held.id).map((h) => h.valve));
  return back.has(null) ? [] : result?.order.filter((v) => here.has(v) && !back.has(v)) ?? [];
}

function drawn(head: string, held: Setup, order: string[], result: CutResult | null | undefined): MapData {
  const here = job.value;
  const found = state.value?.results.find?.heads.find((h) => h.head === head)?.setups.find((s) => s.id === held.id);
  const data = mapData({ held, found, hold: state.value?.results.hold, valves: state.value?.valves ?? [], tables: here?.tables, units: here?.units ?? 'mm', sure: false });
  const stands = seatsNow(head, walkHere(head).steps);
  return {
    ...data,
    guides: data.guides.map((g) => {
      const place = order.indexOf(g.id);
      const plain = { ...g, sd: null };
      if (place < 0 && stands(g.id) === 'open') return { ...plain, standing: result ? 'held' as const : 'open' as const, words: result ? 'held back' : '–' };
      return { ...plain, standing: stands(g.id), words: place < 0 ? '–' : `${place + 1}.` };
    }),
  };
}

const whole = (order: string[]) => (order.length === 0 ? 'No seat of this setup is in a file yet.' : `${order.length} ${order.length === 1 ? 'seat' : 'seats'}, numbered in the order they are cut.`);

function sentenceAt(valve: string, place: number, of: number, data: MapData): string {
  const seat = state.value?.results.shape?.seats.find((s) => s.id === valve);
  const stands = data.guides.find((g) => g.id === valve)?.standing;
  const far = stands === 'measured' ? 'measured' : stands === 'cut' ? 'cut' : 'not cut yet';
  const depth = seat && seat.depth_mm !== null ? `planned ${showLength(seat.depth_mm, shown.value)} deep, ` : '';
  return `Seat ${place + 1} of ${of}: ${valve}, ${depth}${far}.`;
}

const Legend = () => (
  <p class="map-legend">
    <svg viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="4.5" class="map-key" /></svg>to cut
    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 17 L2 4 L18 4 Z" class="map-key-next" /></svg>shown
    <svg viewBox="0 0 20 20" aria-hidden="true"><circle cx="10" cy="10" r="6" class="map-key-touch" /></svg>cut
    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M3 10.5 L8 15.5 L17 4.5" class="map-key" /></svg>measured
    <svg viewBox="0 0 20 20" aria-hidden="true"><path d="M3 10 L17 10" class="map-key-warn" /></svg>held back
  </p>
);
