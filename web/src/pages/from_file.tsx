// A job from a file on this device; its shop file beside it if it needs one.

import { useSignal } from '@preact/signals';

// How a new job is begun, whichever way: what the server is asked for; whether the job is made, or is being made.
export type Begin = (body: Record<string, unknown>) => Promise<boolean>;

const largest = 16 * 1024 * 1024; // bytes, as the server takes

export function FromFile(props: { begin: Begin }) {
  const sentence = useSignal<string | null>(null);
  const submit = async (event: SubmitEvent) => {
    event.preventDefault();
    sentence.value = null;
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const job = data.get('job') as File;
    const shop = data.get('shop') as File;
    if (job.size === 0) {
      sentence.value = 'Choose a job file first; it ends in .toml.';
      return;
    }
    if (job.size + shop.size > largest) {
      sentence.value = 'The file is larger than 16 MiB.';
      return;
    }
    await props.begin({
      from: 'text', text: await job.text(), file: job.name, ...(shop.size > 0 ? { shop_text: await shop.text() } : {}),
    });
  };
  return (
    <form class="form" onSubmit={(e) => void submit(e)}>
      <div>
        <label for="job-file">Job file</label>
        <input id="job-file" name="job" type="file" accept=".toml,text/plain" />
      </div>
      <div>
        <label for="shop-file">Its shop file, if it names one (else the Shelf is used)</label>
        <input id="shop-file" name="shop" type="file" accept=".toml,text/plain" />
      </div>
      {sentence.value && <p class="sentence" role="alert">{sentence.value}</p>}
      <button type="submit" class="main-act">Read it</button>
    </form>
  );
}
