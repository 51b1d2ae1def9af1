// Marks counted on a chattered seat, and the calm speeds. M marks round the seat at n turns a minute are a frequency
// f = M·n/60 in Hz; with z blades the cut is calm at 60·f/(z·k) turns a minute, k = 1, 2, …: each blade then meets the
// wave the last one left at the same place. Speeds outside slowest..fastest (turns a minute) are left out.

const most = 8; // speeds said

export interface Calm { hz: number; rpm: number[] }

export function calmSpeeds(marks: number, rpm: number, blades: number, slowest: number, fastest: number): Calm {
  const hz = (marks * rpm) / 60;
  const all: number[] = [];
  for (let k = 1; all.length < most; ++k) {
    const n = (60 * hz) / (blades * k);
    if (n < slowest || n < 1) break;
    if (n <= fastest) all.push(n);
  }
  return { hz, rpm: all };
}
