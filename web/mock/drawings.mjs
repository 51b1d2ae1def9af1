// Drawings of the mock: the right kind of SVG (roles as classes, named groups), of nothing in particular.
const title = { plan: 'Plan', end: 'End view', side: 'Side view', map: 'Map', section: 'Seat section', depths: 'Depths', chatter: 'Stable width', path: 'Path', trace: 'Trace', certificate: 'Certificate' };
const stage = { plan: 'hold', end: 'hold', side: 'hold', map: 'find', section: 'shape', depths: 'shape', chatter: 'cut', path: 'cut', trace: 'prove', certificate: 'prove' };
const takes = { end: ['setup', 'tilt_deg'], side: ['setup'], map: ['setup'], section: ['kind'], path: ['setup'], trace: ['valve'] };

let count = 0;
function draw(name, query) {
  const tilt = Number(query.tilt_deg ?? 19.5);
  const circles = Array.from({ length: 8 }, (_, i) => `<g id="g${i}" data-name="${Math.floor(i / 2) + 1}${(i + 1) % 4 < 2 ? 'E' : 'I'}"><circle cx="${20 + i * 20}" cy="40" r="${i % 2 ? 8 : 6.5}" class="s-line" stroke-width="0.3"/><text x="${20 + i * 20}" y="41.2" font-size="3.2" text-anchor="middle" class="t-touch">${Math.floor(i / 2) + 1}${(i + 1) % 4 < 2 ? 'E' : 'I'}</text></g>`).join('');
  const facets = ['throat0', 'face', 'top0'].map((n, i) => `<g data-name="${n}"><line x1="${60 + i * 20}" y1="${70 - i * 14}" x2="${80 + i * 20}" y2="${56 - i * 14}" class="s-touch" stroke-width="1"/></g>`).join('');
  const inside = name === 'section' ? facets : name === 'end' ? `<g transform="rotate(${-tilt} 90 45)"><polyline points="40,30 140,30 140,60 40,60 40,30" class="s-line" stroke-width="0.4"/><line x1="90" y1="10" x2="90" y2="80" class="s-touch" stroke-width="0.3" stroke-dasharray="6 2"/></g>` : circles;
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 180 90" role="img" class="drawing"><title>${title[name] ?? name}</title><desc>invented</desc>${inside}<text x="90" y="86" font-size="3.2" text-anchor="middle" class="t-line">${title[name] ?? name} of the mock, ${++count}</text></svg>`;
}
export const drawings = { list: Object.keys(title).map((name) => ({ name, stage: stage[name], title: title[name], takes: takes[name] ?? [] })), draw };
