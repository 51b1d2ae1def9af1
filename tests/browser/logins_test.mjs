// A lead sees who came in and who was refused; a machinist does not.
import { check, comeIn, machinistComesIn, owner, until } from './steps.mjs';

export default async function logins({ server, browser }) {
  if (process.argv.includes('--mock')) return 'left out: the mock keeps no list of logins';
  const page = await browser.page();
  await comeIn(page, server.base);
  page.expectsNetworkErrors = true; // a refusal is an answer
  const said = await page.evaluate(async ([name]) => {
    const answer = await fetch('/api/session', {
      method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify({ name, password: 'not the password' }),
    });
    return answer.status;
  }, [owner.name]);
  check(said === 401, `a wrong password is answered ${said}`);
  await page.goto(`${server.base}/#/people`);
  await page.getByText('Who logged in, and who was refused').click();
  page.expectsNetworkErrors = false;
  await until('the refusal stands in the list', async () => await page.locator('td', { hasText: 'refused: wrong password' }).count() > 0);
  const row = page.locator('tr', { hasText: 'refused: wrong password' }).first();
  check((await row.innerText()).includes(owner.name), `the line does not name who: ${await row.innerText()}`);
  check((await row.innerText()).includes('127.0.0.1'), `the line does not say from where: ${await row.innerText()}`);
  const other = await machinistComesIn(page, { server, browser });
  await other.goto(`${server.base}/#/people`);
  await other.getByText('Where I am logged in').waitFor();
  check(await other.getByText('Who logged in, and who was refused').count() === 0, 'a machinist is shown the list of logins');
  return undefined;
}
