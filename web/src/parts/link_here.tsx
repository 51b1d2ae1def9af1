// The address of this head and stage, to be read by another screen's camera or copied.

import { useSignal } from '@preact/signals';
import { encode } from 'uqr';
import { session } from '../api/client';

export function LinkHere(props: { address: string; says: string }) {
  const copied = useSignal(false);
  const { data, size } = encode(props.address, { ecc: 'M', border: 4 });
  const squares = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join('');
  const copy = () => { void navigator.clipboard?.writeText(props.address).then(() => { copied.value = true; }).catch(() => undefined); };
  return (
    <div class="link-here">
      <svg viewBox={`0 0 ${size} ${size}`} role="img" aria-label={`Square code of the address of ${props.says}`}>
        <rect width={size} height={size} fill="#fff" />
        <path d={squares} fill="#000" />
      </svg>
      <label for="link-address">{props.says}: scan it with the other screen’s camera, or copy the address.</label>
      <input id="link-address" readOnly value={props.address} onFocus={(e) => e.currentTarget.select()} />
      {'clipboard' in navigator && <button type="button" onClick={copy}>{copied.value ? 'Copied' : 'Copy the address'}</button>}
      {session.value?.listening === 'loopback' && <p class="quiet">Only this machine can open it: the workbench listens on it alone.</p>}
    </div>
  );
}
