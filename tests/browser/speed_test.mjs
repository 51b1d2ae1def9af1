// From input to new drawing on the screen, on a head of thirty-two valves: at most 50 ms at the median and 100 ms at the 99th
// percentile, for the tilt and for a facet. Measured in the page from the input event to the frame after the drawing's marks have changed.
import { Busy, check, comeIn, made, openStage, thirtyTwo, until } from './steps.mjs';

const most = 50, mostWorst = 100; // ms, at the median and the 99th percentile
const moves = 100;
const rounds = 6; // the quietest round counts: another process on the machine is not the page's doing

export const measures = true;

export default async function speed({ server, browser }) {
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await made(page, { from: 'answers', answers: thirtyTwo });
  await page.goto(`${server.base}/#/job/${job}/hold`);
  await openStage(page, 'hold');
  await until('the end view', async () => await page.locator('[data-drawing] svg').count() > 0);
  const busy = new Busy();
  const tilt = await quietest(page, 'Drag the tilt', 0.5);
  await openStage(page, 'shape');
  await until('the section', async () => await page.locator('[data-drawing] svg').count() > 0);
  const facet = await quietest(page, 'Drag the width', 0.05);
  const say = (r) => `median ${r.median.toFixed(0)} ms, 99th percentile ${r.worst.toFixed(0)} ms`;
  const said = `tilt ${say(tilt)}; facet ${say(facet)} (${moves} moves each, ${busy.words})`;
  for (const r of [tilt, facet]) check(r.median <= busy.factor * most && r.worst <= busy.factor * mostWorst, said);
  return said;
}

async function quietest(page, label, by) {
  let best = await dragging(page, label, by);
  for (let i = 1; i < rounds && (best.median > most || best.worst > mostWorst); ++i) {
    const again = await dragging(page, label, by);
    if (again.worst < best.worst) best = again;
  }
  return best;
}

function dragging(page, label, by) {
  return page.evaluate(async ([name, step, count]) => {
    const labels = [...document.querySelectorAll('label')].filter((l) => l.textContent === name);
    const slider = document.getElementById(labels[0].htmlFor);
    const marks = () => [...document.querySelectorAll('[data-drawing] .ink')].map((i) => i.innerHTML).join();
    const frame = () => new Promise((resolve) => requestAnimationFrame(resolve));
    const times = [];
    for (let i = 0; i < count; ++i) {
      const before = marks();
      const began = performance.now();
      slider.value = String(Number(slider.value) + (i % 2 === 0 ? step : -step) * (1 + i / count));
      slider.dispatchEvent(new Event('input', { bubbles: true }));
      while (marks() === before && performance.now() - began < 3_000) await frame();
      await frame();
      times.push(performance.now() - began);
    }
    times.sort((a, b) => a - b);
    return { median: times[Math.floor(times.length / 2)], worst: times[Math.floor(0.99 * (times.length - 1))] };
  }, [label, by, moves]);
}
