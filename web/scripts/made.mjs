// What is made from schema/results.json, the one description of each stage's result: the pages' types, the
// interface's components and the list of keys in the docs. `node web/scripts/made.mjs` writes them anew; a test
// holds the files against it.

import { readFileSync, writeFileSync } from 'node:fs';
import { compile } from 'json-schema-to-typescript';

const root = new URL('../../', import.meta.url);
const file = (path) => new URL(path, root);
const read = (path) => readFileSync(file(path), 'utf8');

// The one description.
export const schema = () => JSON.parse(read('schema/results.json'));

async function types(of) {
  const text = await compile(of, 'Results', { bannerComment: '', additionalProperties: false, unreachableDefinitions: true, style: { singleQuote: true, printWidth: 140 } });
  // What the maker says of where a type comes from says nothing here.
  const plain = text
    .replace(/^ \* This interface was referenced by .*\n \* via the .*\n/gm, '')
    .replace(/^ \*\n \*\/\n/gm, ' */\n')
    .replace(/^\/\*\*\n \*\/\n/gm, '');
  return `// Made from schema/results.json by scripts/made.mjs.\n\n${plain.trim()}\n`;
}

// OpenAPI 3.0 says "nullable" where JSON Schema has a type "null", and finds its schemas elsewhere.
function forOpenApi(node) {
  if (Array.isArray(node)) return node.map(forOpenApi);
  if (typeof node !== 'object' || node === null) return node;
  const { additionalProperties: _, ...rest } = node;
  const out = {};
  for (const [key, value] of Object.entries(rest)) {
    if (key === 'type' && Array.isArray(value)) {
      const types = value.filter((t) => t !== 'null');
      Object.assign(out, types.length > 1 ? { anyOf: types.map((type) => ({ type })) } : { type: types[0] }, { nullable: true });
    } else if (key === 'type' && value === 'null') Object.assign(out, { type: 'string', nullable: true, enum: [null] });
    else if (key === '$ref') out[key] = value.replace('#/definitions/', '#/components/schemas/');
    else if (key === 'anyOf' && value.some((v) => v.type === 'null')) {
      const one = value.find((v) => v.type !== 'null');
      Object.assign(out, one.$ref ? { allOf: [forOpenApi(one)] } : forOpenApi(one), { nullable: true });
    } else out[key] = forOpenApi(value);
  }
  return out;
}

function openapi(of) {
  const api = JSON.parse(read('docs/api/openapi.json'));
  for (const [name, one] of Object.entries(of.definitions)) api.components.schemas[name] = forOpenApi(one);
  const { State } = api.components.schemas;
  const refs = Object.entries(of.properties).map(([stage, one]) => [stage, forOpenApi(one)]);
  State.properties.results = {
    type: 'object',
    properties: Object.fromEntries(refs.map(([stage, ref]) => [stage, { allOf: [ref], nullable: true }])),
    description: 'by stage: the JSON of that stage as the command line prints it, its sentences in the unit asked for and as a page says them; null if it cannot be computed',
  };
  const answer = api.paths['/api/jobs/{id}/results/{stage}'].get.responses['200'].content['application/json'];
  answer.schema = { anyOf: refs.map(([, ref]) => ref) };
  return `${JSON.stringify(api, null, 1)}\n`;
}

// "number or null", "list of [number, number]", "CutZero or null".
function words(one) {
  if (one.$ref) return one.$ref.split('/').pop();
  if (one.allOf) return words(one.allOf[0]);
  if (one.anyOf) return one.anyOf.map(words).join(' or ');
  if (one.enum) return one.enum.map((e) => `\`${e}\``).join(' ');
  if (one.type === 'array') return one.minItems === 2 ? `[${words(one.items)}, ${words(one.items)}]` : `list of ${words(one.items)}`;
  return Array.isArray(one.type) ? one.type.join(' or ') : one.type;
}

function keys(of) {
  const rows = Object.entries(of.definitions).filter(([, one]) => one.properties).map(([name, one]) => {
    const lines = Object.entries(one.properties).map(([key, p]) => `| \`${key}\` | ${words(p)} | ${p.description ?? ''} |`);
    return `### ${name}\n\n${one.description ? `${one.description}\n\n` : ''}| key | value | meaning |\n|---|---|---|\n${lines.join('\n')}\n`;
  });
  return rows.join('\n');
}

const mark = '<!-- From here on made from schema/results.json by web/scripts/made.mjs. -->\n';

function docs(of) {
  const page = read('docs/json.md');
  const by = page.indexOf(mark);
  return `${(by < 0 ? page : page.slice(0, by)).trimEnd()}\n\n${mark}\n${keys(of)}`;
}

// Path to text of every file made.
export async function made() {
  const of = schema();
  return { 'web/src/made/results.ts': await types(of), 'docs/api/openapi.json': openapi(of), 'docs/json.md': docs(of) };
}

export const onDisk = read;

if (import.meta.url === `file://${process.argv[1]}`)
  for (const [path, text] of Object.entries(await made())) writeFileSync(file(path), text);
