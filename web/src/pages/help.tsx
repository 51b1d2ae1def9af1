// What a new person needs to know, read in five minutes.

import { tour } from '../state/tour';

const parts: { title: string; lines: string[] }[] = [
  { title: 'What this does', lines: [
    'A cylinder head comes to the machine that cuts its valve seats. This workbench says how to hold it, where each guide really is, what each seat needs, gives the programs, and shows afterwards that the head is right.',
    'Five stages, always in this order: hold, find, shape, cut, prove. Each has a mark: a dashed ring is open, a half disc is ready, a flag needs you, a ticked box is done.'] },
  { title: 'Begin', lines: [
    'On the Bench choose New job: from readings at the machine, a scanned surface, a drawing, an example, a head the shop has had, a job file, or by six questions. Figures that were made up stand dashed until you type them or say that they are right; no program is written before.',
    'Readings at the machine are for a head nobody has a drawing of. The page says what to read next with pilot, angle sensor, ball and calipers, and draws the head with every figure. A reading that does not go with the others is set aside and shown, never lost.',
    'The head you work on stands in the top line. Everything on the page is of that head.'] },
  { title: 'At the desk', lines: [
    'A stage opens with its drawing. Touch a guide, a facet or a bar in it. What is under it opens line by line.',
    'The largest sentence says what to do next. Why beside a number opens its formula, its inputs and where each comes from, and its source.',
    'Under Prove, the batch shows trends over the heads: touches, runout, seats that pass, depth left. Each is there as a table and as CSV too.'] },
  { title: 'At the machine', lines: [
    'Open “At the machine” on the tablet. It shows one step at a time: load, touch, take the file, Z0, the first seat, the second file, cut, measure. You end a step; nothing moves on by itself.',
    'A gauge that types like a keyboard needs no tap: its figures go to the field that waits, Enter goes on.',
    'At every step one tap away: a blade broke, not as it should be, put this head aside.',
    'Not as it should be takes a note or a photograph. A photograph is made small on this device and carries no place and no camera data.'] },
  { title: 'When the network is away', lines: [
    'Go on typing. What you enter waits on this screen under your name and is sent in order when the network is back.',
    'Two different values for one place are both kept until somebody chooses. Nothing is ever erased; Undo says what it takes back, and takes back only what you did here.'] },
  { title: 'Keys', lines: [
    'On a job’s page, with no field in use: H, F, S, C and P open the stages, M the step at the machine, D the drawing data, N the next head; B opens the Bench and ? this page. Behind your name they can be switched off.'] },
];

export function HelpPage() {
  return (
    <main class="page help">
      <header><h1>Help</h1><button type="button" onClick={() => { tour.value = 0; }}>Show me round</button></header>
      {parts.map((p) => <section key={p.title}><h2>{p.title}</h2>{p.lines.map((l) => <p key={l}>{l}</p>)}</section>)}
      <p class="quiet">Seatwright plans; people work. Heads fall, tools turn, chips fly. The engine maker’s data, your machine’s manual and local rules come first.</p>
    </main>
  );
}
