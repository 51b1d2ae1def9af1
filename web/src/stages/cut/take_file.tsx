// A file that leaves for a machine: the job's number in front of its name, or, where names are short, a folder of that number
// round it.

import { useSignal } from '@preact/signals';
import { sentenceOf } from '../../api/client';
import { job } from '../../state/open_job';
import { takenAs } from '../../state/papers';
import { known } from '../../state/shelf';

interface Props {
  address: string; // under /api
  file: string;
  words?: string; // on the button, if not the name
  main?: boolean; // at the machine: the step ends when the file is there, not when it was asked for
  mark?: string; // the digest the page shows: the file must have it
  onTaken?: () => void;
}

export function TakeIt(props: Props) {
  const { file, address, main } = props;
  const sentence = useSignal<string | null>(null);
  const busy = useSignal(false);
  const look = main ? 'button main-act big' : 'button';
  const folder = known('dialect.names') === '8.3' ? String(job.value?.id ?? 0) : null;
  if (folder === null && !main) return <a class={look} href={`/api${address}`} download={takenAs(file)}>{props.words ?? `Take ${takenAs(file)}`}</a>;
  const take = async () => {
    if (busy.value) return;
    [busy.value, sentence.value] = [true, null];
    try {
      const { filesOf, handOver, zipOf } = await import('../../parts/folder_zip');
      const [one] = await filesOf([{ name: folder === null ? takenAs(file) : `${folder}/${file}`, address }], props.mark);
      if (one === undefined) return;
      if (folder === null) handOver(one.name, one.bytes, 'text/plain');
      else handOver(`${folder}.zip`, zipOf([one]), 'application/zip');
      props.onTaken?.();
    } catch (fault) {
      sentence.value = `The file was not taken. ${sentenceOf(fault)}`;
    } finally {
      busy.value = false;
    }
  };
  return (
    <>
      <button type="button" class={look} disabled={busy.value} onClick={() => void take()}>{props.words ?? (folder === null ? `Take ${takenAs(file)}` : `Take ${folder}/${file}`)}</button>
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
    </>
  );
}
