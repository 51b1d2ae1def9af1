// Places programs are sent to, as the Shelf shows them.

import { signal } from '@preact/signals';
import { get } from '../api/client';
import type { Place } from '../api/sent';

export const places = signal<Place[]>([]);

export const fetchPlaces = (): Promise<void> => get<{ places: Place[] }>('/places').then((a) => { places.value = a.places; });
