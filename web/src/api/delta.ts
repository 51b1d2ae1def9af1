// What the server says has changed in a state (docs/api/openapi.json, Delta): the operations of a JSON Patch
// (RFC 6902) that it uses, on a copy that shares whatever stays.

export type Operation =
  | { op: 'add' | 'replace'; path: string; value: unknown }
  | { op: 'remove'; path: string };
export interface Delta { since: string; key: string; patch: Operation[]; again?: string } // again: what is said while much is worked out again

export const isDelta = (answer: object): answer is Delta => 'patch' in answer;

// `whole` with all operations done, one after the other; throws where one does not fit.
export function patched<T>(whole: T, patch: Operation[]): T {
  return patch.reduce<unknown>((now, step) => put(now, namesOf(step.path), step), whole) as T;
}

const namesOf = (path: string): string[] =>
  path.split('/').slice(1).map((name) => name.replaceAll('~1', '/').replaceAll('~0', '~'));

function put(into: unknown, names: string[], step: Operation): unknown {
  const [name, ...rest] = names;
  if (name === undefined) return step.op === 'remove' ? undefined : step.value;
  if (Array.isArray(into)) {
    if (step.op !== 'add' || name !== '-' || rest.length > 0) throw new Error(`a list only gains things at its end: ${step.path}`);
    return [...(into as unknown[]), step.value];
  }
  if (typeof into !== 'object' || into === null) throw new Error(`there is no ${step.path} to change`);
  const before = into as Record<string, unknown>;
  if (rest.length > 0) return { ...before, [name]: put(before[name], rest, step) };
  if (step.op !== 'add' && !(name in before)) throw new Error(`there is no ${step.path} to change`);
  if (step.op !== 'remove') return { ...before, [name]: step.value };
  const { [name]: _, ...left } = before;
  return left;
}
