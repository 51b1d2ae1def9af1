// The screen stays awake while a person stands at the machine: the hands are dirty, and a dark screen asks for a touch. Browsers
// let go of it when the page is hidden; then it is asked for again. Where they do not offer it (plain http) nothing happens.

export function keepAwake(): () => void {
  let held: WakeLockSentinel | null = null;
  let over = false;
  const ask = async () => {
    if (over || document.visibilityState !== 'visible' || !('wakeLock' in navigator)) return;
    held = await navigator.wakeLock.request('screen').catch(() => null);
    if (over) void held?.release();
  };
  const again = () => void ask();
  document.addEventListener('visibilitychange', again);
  again();
  return () => {
    over = true;
    document.removeEventListener('visibilitychange', again);
    void held?.release();
  };
}
