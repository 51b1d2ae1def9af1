// A moment as a person says it: the time today, else the day; always the device's own clock and zone.

export function when(iso: string | null | undefined): string {
  if (!iso) return '';
  const then = new Date(iso);
  if (Number.isNaN(then.getTime())) return iso;
  const two = (n: number) => String(n).padStart(2, '0');
  const time = `${two(then.getHours())}:${two(then.getMinutes())}`;
  if (then.toDateString() === new Date().toDateString()) return `at ${time}`;
  return `${then.getFullYear()}-${two(then.getMonth() + 1)}-${two(then.getDate())} ${time}`;
}
