// A job from a drawing of the deck as DXF: what a view of the deck does not show is asked for in the job.

import { useSignal } from '@preact/signals';
import { base64 } from '../parts/shrink';
import { FileUnits } from './file_units';
import type { Begin } from './from_file';

const largest = 12 * 1024 * 1024; // bytes: packed as text it is a third larger, and the server takes 16 MiB

export function FromDrawing(props: { begin: Begin }) {
  const sentence = useSignal<string | null>(null);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    sentence.value = null;
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const file = data.get('drawing') as File;
    if (file.size === 0) sentence.value = 'Choose a drawing first; it ends in .dxf.';
    else if (file.size > largest) sentence.value = 'The file is larger than 12 MiB: save the view of the deck alone.';
    else {
      const units = data.get('drawing-units') as string;
      await props.begin({
        from: 'drawing', file: file.name, dxf: await base64(file), ...(units === '' ? {} : { units }),
        end_for_end: data.get('other-end') !== null, from_above: data.get('from-above') !== null,
      });
    }
  };
  return (
    <section aria-label="A drawing">
      <p>A drawing of the deck as DXF gives the places of guides, seats and bolt holes. What a view of the deck does not show, heights and often angles, stands dashed in the job until you type it.</p>
      <form class="form" onSubmit={(e) => void submit(e)}>
        <div>
          <label for="drawing-file">Drawing of the deck (.dxf)</label>
          <input id="drawing-file" name="drawing" type="file" accept=".dxf" />
        </div>
        <FileUnits name="drawing-units" legend="It is drawn in" own="what it says" />
        <label class="scan-end"><input type="checkbox" name="other-end" /> Cylinder 1 is at its right end</label>
        <label class="scan-end"><input type="checkbox" name="from-above" /> It is seen from the cams’ side, not from the deck’s</label>
        {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
        <button type="submit" class="main-act">Read it</button>
      </form>
    </section>
  );
}
