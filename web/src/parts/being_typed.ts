// Whether somebody types, or has typed what no button and no leaving of a field has kept yet: the page then stays as it is.

const justNow = 3_000; // ms since the last touch or key: a hand is at the page
const open = 60_000; // ms a field stays open for the next figure while nobody does anything

const before = new WeakMap<Element, string>(); // what stood in a field when it was entered
const typed = new Set<HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement>();
let last = 0; // when somebody did something

type Typable = HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement;
const picks = new Set(['range', 'checkbox', 'radio', 'button', 'submit', 'color']); // acted on at once, or part of a form
const isTypable = (of: unknown): of is Typable =>
  (of instanceof HTMLInputElement && !picks.has(of.type)) || of instanceof HTMLTextAreaElement || (of instanceof HTMLSelectElement && of.form !== null);

export function noteTyped(field: Typable): void {
  typed.add(field);
}

// In capture: what the page itself does with these events is not waited for.
export function startTypingWatch(): void {
  const acted = () => { last = Date.now(); };
  for (const what of ['pointerdown', 'keydown', 'input']) addEventListener(what, acted, true);
  addEventListener('focusin', (e) => { if (isTypable(e.target) && !typed.has(e.target)) before.set(e.target, e.target.value); }, true);
  addEventListener('input', (e) => { if (isTypable(e.target)) noteTyped(e.target); }, true);
}

export function beingTyped(): boolean {
  const idle = Date.now() - last;
  const here = document.activeElement;
  if (idle < justNow || (isTypable(here) && idle < open)) return true;
  for (const field of typed) if (!isUnkept(field, field === here)) typed.delete(field);
  return typed.size > 0;
}

// `data-kept-left`: leaving the field keeps what stands in it, where it makes sense.
function isUnkept(field: Typable, entered: boolean): boolean {
  if (!field.isConnected || field.value.trim() === '' || field.value === before.get(field)) return false;
  if (entered) return true;
  if (field.type === 'search') return false;
  return !('keptLeft' in field.dataset) || field.getAttribute('aria-invalid') === 'true';
}
