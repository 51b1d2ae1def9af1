// Change of person at the machine: a lead enrolls the screen, a machinist chooses a PIN, comes in with two taps and four
// digits, leaves with one; papers that were taken stand with who took them; whose the job is stands on the Bench.
import { accessFaults, beginWedge, check, comeIn, picture, signOut, unfold, until } from './steps.mjs';

export default async function change({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock knows no PINs';
  const page = await browser.page({ width: 800, height: 1280 });
  await comeIn(page, server.base);
  await page.goto(`${server.base}/#/people`);
  await choosePin(page, 'plumb guides first', '2580');
  await page.goto(`${server.base}/#/administration`);
  await page.getByLabel('Name of this screen').fill('mill 2');
  await page.getByRole('button', { name: 'Take PINs at this screen' }).click();
  await page.getByText('mill 2, this one').waitFor();
  const job = await begun(page, server);
  await whose(page, server, job);

  await signOut(page).catch(() => undefined); // there the PIN is asked for, not the password
  await page.getByText('Who is at mill 2?').waitFor();
  check((await accessFaults(page)).length === 0, `access: ${(await accessFaults(page)).join('\n')}`);
  await picture(page, 'change-of-person');
  await page.getByRole('button', { name: 'A. Turner' }).click();
  page.expectsNetworkErrors = true; // a refusal is an answer
  await page.locator('#pin').fill('9999');
  await page.keyboard.press('Enter');
  await page.getByText('name or PIN is not right').waitFor();
  await page.locator('#pin').fill('2580');
  await page.keyboard.press('Enter');
  await page.locator('.bar').waitFor();
  page.expectsNetworkErrors = false;
  check((await session(page)).person.role === 'machinist', 'a PIN gives more than a machinist\'s rights');
  await page.getByRole('button', { name: 'Leave', exact: true }).click();
  await page.getByText('Who is at mill 2?').waitFor();
  check((await session(page)).person === null, 'one tap does not leave');
  await page.getByRole('button', { name: 'With a password' }).click();
  await page.locator('#password').waitFor();
  return undefined;
}

const session = (page) => page.evaluate(() => fetch('/api/session').then((r) => r.json()));

async function choosePin(page, password, pin) {
  await page.getByText('Choose a PIN for the machines').click();
  await page.locator('#pin-password').fill(password);
  await page.locator('#own-pin').fill(pin);
  await page.getByRole('button', { name: 'Take this PIN' }).click();
  await page.getByText('The PIN counts from now on.').waitFor();
}

async function begun(page, server) {
  await page.goto(`${server.base}/#/bench`);
  return beginWedge(page);
}

async function whose(page, server, job) {
  await page.goto(`${server.base}/#/job/${job}/data`);
  await unfold(page, 'Whose it is');
  await page.getByLabel('Job number', { exact: true }).fill('A-1711');
  await page.getByLabel('Customer', { exact: true }).fill('Invented Engines');
  await page.getByLabel('Customer', { exact: true }).press('Tab');
  await until('it is stored', async () => (await page.evaluate((id) => fetch(`/api/jobs/${id}/order`).then((r) => r.json()), job)).customer === 'Invented Engines');
  await page.evaluate((id) => fetch(`/api/jobs/${id}/papers/sheet.pdf`).then((r) => r.arrayBuffer()), job);
  await unfold(page, 'Papers and files that were taken');
  const row = page.locator('tr', { hasText: 'sheet.pdf' });
  await row.waitFor();
  check((await row.innerText()).includes('A. Turner'), `the list does not say who: ${await row.innerText()}`);
  await picture(page, 'papers-taken', { fullPage: true });
  await page.goto(`${server.base}/#/bench`);
  await page.getByText('Order A-1711, Invented Engines').waitFor();
}
