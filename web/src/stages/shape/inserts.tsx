// Insert fits, where the job has inserts.

import type { ShapeResult } from '../../api/types';
import { Wide } from '../../parts/wide';

export function InsertTable(props: { inserts: ShapeResult['inserts'] }) {
  if (props.inserts.length === 0) return null;
  return (
    <Wide name="Inserts">
      <table>
        <caption>Inserts</caption>
        <thead>
          <tr><th>Seat</th><th>pressure, MPa</th><th>hot, MPa</th><th>holds, N</th><th>hoop in the head, MPa</th><th>ring free at, °C</th><th>or head at, °C</th></tr>
        </thead>
        <tbody>
          {props.inserts.map((i) => (
            <tr key={i.id}>
              <th scope="row">{i.id}</th>
              {[i.pressure_mpa, i.pressure_hot_mpa].map((n, k) => <td key={k}>{n.toFixed(1)}</td>)}
              {[i.hold_force_n, i.hoop_mpa, i.insert_temp_c, i.head_temp_c].map((n, k) => <td key={k}>{n.toFixed(0)}</td>)}
            </tr>
          ))}
        </tbody>
      </table>
      <p>Cold rings burn: insulated gloves, a face shield, an aired room; liquid nitrogen drives out the air one breathes. Hot castings show no colour: mark them.</p>
    </Wide>
  );
}
