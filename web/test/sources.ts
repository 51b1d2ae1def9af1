// The sources of the pages, for tests of what stands in them.
import { readdirSync, readFileSync } from 'node:fs';

const root = new URL('../src/', import.meta.url);

export interface Source { path: string; text: string; lines: number } // path below web/src

export const sources: Source[] = (readdirSync(root, { recursive: true }) as string[])
  .map((path) => path.replaceAll('\\', '/'))
  .filter((path) => /\.tsx?$/.test(path) && !path.startsWith('made/'))
  .map((path) => {
    const text = readFileSync(new URL(path, root), 'utf8');
    return { path, text, lines: text.split('\n').length - 1 };
  });
