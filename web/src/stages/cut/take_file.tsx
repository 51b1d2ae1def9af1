// A file that leaves for a machine: the job's number in front of its name, or, where names are short, a folder of that number
// round it.

import { useSignal } from '@preact/signals';
import { sentenceOf } from '../../api/client';
import { job } from '../../state/open_job';
import { takenAs } from '../../state/papers';
import { known } from '../../state/shelf';

// `address`: under /api. `words`: on the button, if not the name.
export function TakeIt(props: { address: string; file: string; words?: string; main?: boolean; onTaken?: () => void }) {
  const { file, address } = props;
  const sentence = useSignal<string | null>(null);
  const look = props.main ? 'button main-act big' : 'button';
  const folder = String(job.value?.id ?? 0);
  if (known('dialect.names') !== '8.3') return <a class={look} href={`/api${address}`} download={takenAs(file)} onClick={props.onTaken}>{props.words ?? `Take ${takenAs(file)}`}</a>;
  const take = async () => {
    sentence.value = null;
    try {
      const { takeInFolder } = await import('../../parts/folder_zip');
      await takeInFolder(folder, [{ name: file, address }]);
      props.onTaken?.();
    } catch (fault) {
      sentence.value = sentenceOf(fault);
    }
  };
  return (
    <>
      <button type="button" class={look} onClick={() => void take()}>{props.words ?? `Take ${folder}/${file}`}</button>
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
    </>
  );
}
