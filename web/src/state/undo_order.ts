// Which step undo takes back.

export type Done =
  | { job: string; by: number; words: string; kind: 'entry'; id: number }
  | { job: string; by: number; words: string; kind: 'change'; version: number }; // the version it made

// The newest step of this person on this job that can still be taken back: an entry while it stands, a change while
// no later one has been made by anybody.
export function lastOf(all: Done[], here: { job: string; by: number; version: number; live: (id: number) => boolean }): Done | undefined {
  return all.filter((d) => d.job === here.job && d.by === here.by)
    .filter((d) => (d.kind === 'entry' ? here.live(d.id) : d.version === here.version)).at(-1);
}
