// How a serial line is set: of a place and of a gauge.

import type { LineSettings } from '../api/sent';

const speeds = [1200, 2400, 4800, 9600, 19200, 38400, 57600, 115200];
const held: [string, string][] = [['xon/xoff', 'XON/XOFF'], ['rts/cts', 'the wire clear to send'], ['none', 'nothing']];

// `asks`: a control may ask for what it is sent.
export function LineFields(props: { id: string; was?: LineSettings; asks?: boolean }) {
  const { id, was = {} } = props;
  const pick = (name: string, label: string, of: [string | number, string][], now: unknown) => (
    <div><label for={`${id}-${name}`}>{label}</label><select id={`${id}-${name}`} name={name}>{of.map(([value, words]) => <option key={value} value={String(value)} selected={String(value) === String(now)}>{words}</option>)}</select></div>
  );
  return (
    <>
      <div><label for={`${id}-device`}>Line of the server</label><input id={`${id}-device`} name="device" required placeholder="/dev/ttyUSB0" defaultValue={was.device ?? ''} /></div>
      {pick('baud', 'Baud', speeds.map((b) => [b, String(b)]), was.baud ?? 9600)}
      {pick('bits', 'Bits', [[8, '8'], [7, '7']], was.bits ?? 8)}
      {pick('parity', 'Parity', [['none', 'none'], ['even', 'even'], ['odd', 'odd']], was.parity ?? 'none')}
      {pick('handshake', 'Held by', held, was.handshake ?? (props.asks ? 'xon/xoff' : 'none'))}
      {props.asks && <div><label for={`${id}-go`}><input id={`${id}-go`} name="wait_for_go" type="checkbox" defaultChecked={was.wait_for_go ?? false} /> begin when the control asks (XON)</label></div>}
    </>
  );
}

// As the form has them.
export const lineIn = (given: FormData): LineSettings => ({
  device: String(given.get('device') ?? ''), baud: Number(given.get('baud')), bits: Number(given.get('bits')), parity: String(given.get('parity') ?? ''), stop_bits: 1,
  handshake: String(given.get('handshake') ?? ''), wait_for_go: given.get('wait_for_go') !== null,
});
