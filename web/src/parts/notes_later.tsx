// Notes and photographs, fetched when they are first asked for; and the line that opens them.

import { nameOfHead, notesOf } from '../state/notes';
import { Fold } from './fold';
import { later } from './later';

export interface NotesOf { head: string; valve?: string; reading?: number; onKept?: () => void }
export const Notes = later<NotesOf>(() => import('./notes').then((m) => m.Notes));

export function NotesFold(props: { head: string; valve?: string | null }) {
  const { head } = props;
  const valve = props.valve ?? '';
  const count = notesOf(head).filter((n) => n.valve === valve).length;
  const of = valve === '' ? `head ${head}${nameOfHead(head) === '' ? '' : `, ${nameOfHead(head)}`}` : `${valve}, head ${head}`;
  return (
    <Fold key={`${head}/${valve}`} title={`Notes and photographs: ${of}`} note={count === 0 ? 'none yet' : String(count)} lazy>
      <Notes head={head} {...(valve === '' ? {} : { valve })} />
    </Fold>
  );
}
