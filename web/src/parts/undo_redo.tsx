// What this person can take back on this screen, said before it is done.

import { mayRedo, redo, undo, undoTrouble, undoWords } from '../state/undo';

export function UndoRedo() {
  const words = undoWords();
  if (words === null && !mayRedo() && !undoTrouble.value) return null;
  return (
    <div class="undo no-print">
      {words !== null && <button type="button" onClick={() => void undo()}>{words}</button>}
      {mayRedo() && <button type="button" onClick={() => void redo()}>Redo</button>}
      {undoTrouble.value && <p class="sentence" role="alert">{undoTrouble.value}</p>}
    </div>
  );
}
