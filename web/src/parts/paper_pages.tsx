// A paper page by page as it will be printed, with the files to take along.

import { Fold } from './fold';
import { paperAddress, takenAs, usePapers } from '../state/papers';

export function PaperPages(props: { name: string; beside?: string[] }) {
  const papers = usePapers();
  const paper = papers.find((p) => p.name === props.name);
  if (!paper) return null;
  const files = [paper, ...papers.filter((p) => props.beside?.includes(p.name))];
  return (
    <Fold title={paper.title} note={`${paper.pages.length} ${paper.pages.length === 1 ? 'page' : 'pages'}`} lazy>
    <section class="paper" aria-label={paper.title}>
      <TakeFiles files={files} />
      <div class="paper-pages">
        {paper.pages.map((page, i) => (
          <a key={page} href={paperAddress(page)} target="_blank" rel="noreferrer">
            <img src={paperAddress(page)} loading="lazy" width="595" height="842" alt={`${paper.title}, page ${i + 1} of ${paper.pages.length}; opens by itself`} />
          </a>
        ))}
      </div>
    </section>
    </Fold>
  );
}

export function TakeFiles(props: { files: { name: string; title: string }[] }) {
  if (props.files.length === 0) return null;
  return (
    <p class="acts no-print">
      {props.files.map((f) => <a key={f.name} class="button" href={paperAddress(f.name)} download={takenAs(f.name)}>{f.title} ({f.name.split('.').at(-1)})</a>)}
    </p>
  );
}
