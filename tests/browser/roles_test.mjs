// A machinist sees what is a lead's to change, cannot change it and is told why.
import { beginWedge, check, comeIn, machinistComesIn, openStage } from './steps.mjs';

export default async function roles({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock has one person';
  const page = await browser.page();
  await comeIn(page, server.base);
  const job = await beginWedge(page);
  await dialect(page, true);
  await page.goto(`${server.base}/#/shelf`);
  await page.getByText(/Bring in a casting.s file/).waitFor();
  const other = await machinistComesIn(page, { server, browser });
  await other.goto(`${server.base}/#/job/${job}/cut`);
  await dialect(other, false);
  await openStage(other, 'shape');
  await other.locator('summary', { hasText: 'Depth plan' }).click();
  check(await other.locator('input[name=depth-plan]').first().isDisabled(), 'a machinist is offered the plan of depths');
  check(await other.getByLabel('seat face, width').isEnabled(), 'a machinist cannot change a facet, though no program was taken');
  await other.goto(`${server.base}/#/shelf`);
  await other.getByText('a lead brings it in').waitFor();
  check(await other.getByText(/Bring in a casting.s file/).count() === 0, 'a machinist is offered to bring in a casting');
  return undefined;
}

async function dialect(page, mine) {
  await openStage(page, 'cut');
  await page.locator('summary', { hasText: 'Dialect of the programs' }).click();
  const choice = page.getByLabel('Written as');
  await choice.waitFor();
  check(await choice.isEnabled() === mine, mine ? 'a lead cannot choose the dialect' : 'a machinist is offered the dialect');
  check(await page.locator('#dialect-why').innerText() === (mine ? '' : 'Only a lead changes this.'), `why: ${await page.locator('#dialect-why').innerText()}`);
}
