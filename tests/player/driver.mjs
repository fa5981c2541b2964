// Attempts at QTI 3 items in the independent reader: the browser and the reader are started once, then every attempt
// loads its item anew, answers it by mouse and keys, has it scored, and reads what is seen.
//
//     node driver.mjs READER FOLDER PAGES < attempts.json > results.json
//
// READER: the folder with the reader's sources and packages; FOLDER: where the items lie; PAGES: how many work side by side.
// An attempt: {item, answers: [[identifier, value, how]], pictures: {before, after}}; how is "person" or "event"; the pictures are
// taken before and after it is sent off.
// A match interaction asks for a table, so that a pair is a button, which is clicked. What no person can give (an option that
// does not exist) is sent as the event by which the reader's interactions tell the item of a response.
import fs from 'node:fs';
import http from 'node:http';
import path from 'node:path';
import { createRequire } from 'node:module';

const [reader, folder, pages] = process.argv.slice(2);
const require = createRequire(path.join(path.resolve(reader), 'package.json'));
const { chromium } = require('playwright-core');

const bundle = require('esbuild').buildSync({
  entryPoints: [path.join(reader, 'src/page.js')], bundle: true, format: 'esm', write: false, logLevel: 'error',
}).outputFiles[0].contents;
const styles = path.join(reader, 'node_modules/@citolab/qti-components/dist/item.css');
const kept = {
  '/': ['text/html', fs.readFileSync(path.join(reader, 'src/page.html'))],
  '/page.bundle.js': ['text/javascript', bundle],
  '/dist/item.css': ['text/css', fs.readFileSync(styles)],
};
const types = { '.xml': 'text/xml', '.css': 'text/css', '.svg': 'image/svg+xml', '.png': 'image/png' };

const server = http.createServer((request, response) => {
  const wanted = decodeURIComponent(new URL(request.url, 'http://reader').pathname);
  const file = path.join(folder, path.normalize(wanted));
  if (kept[wanted]) {
    response.writeHead(200, { 'content-type': kept[wanted][0] }).end(kept[wanted][1]);
  } else if (fs.existsSync(file) && fs.statSync(file).isFile()) {
    response.writeHead(200, { 'content-type': types[path.extname(file)] ?? 'application/octet-stream' }).end(fs.readFileSync(file));
  } else response.writeHead(404).end();
});
await new Promise(ready => server.listen(0, '127.0.0.1', ready));
const origin = `http://127.0.0.1:${server.address().port}`;
const browser = await chromium.launch({
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--disable-background-networking', '--disable-component-update'],
});

async function answer(page, [identifier, value, how]) {
  const at = page.locator(`[response-identifier="${identifier}"]`);
  if (how === 'event') {
    await at.evaluate((element, response) => element.dispatchEvent(new CustomEvent('qti-interaction-response', {
      bubbles: true, composed: true, detail: { responseIdentifier: element.getAttribute('response-identifier'), response },
    })), value);
    return;
  }
  const kind = await at.evaluate(element => element.localName);
  const values = Array.isArray(value) ? value : [value];
  if (kind === 'qti-choice-interaction') {
    for (const one of values) await at.locator(`qti-simple-choice[identifier="${one}"]`).click();
  } else if (kind === 'qti-match-interaction') {
    for (const one of values) await at.locator(`input[value="${one}"]`).click();
  } else if (kind === 'qti-text-entry-interaction') {
    await at.locator('input').pressSequentially(value);
  } else if (kind === 'qti-extended-text-interaction') {
    await at.locator('textarea').pressSequentially(value);
  } else throw new Error(`cannot answer ${kind}`);
}

async function attempt(page, log, { item, answers, pictures }) {
  log.length = 0;
  const result = {};
  try {
    await page.evaluate(url => H.loadItem(url, 'mathns'), `${origin}/${item}`);
    for (const one of answers) await answer(page, one);
    if (pictures?.before) await page.screenshot({ path: pictures.before, fullPage: true });
    Object.assign(result, await page.evaluate(async () => {
      const done = H.submit().ok;
      await H.item.updateComplete;
      await new Promise(shown => setTimeout(shown, 30));
      const { outcome, response } = H.variables();
      return { done, outcome, response, text: H.text(), formulas: H.math() };
    }));
    if (pictures?.after) await page.screenshot({ path: pictures.after, fullPage: true });
  } catch (error) { result.failed = String(error.message ?? error).split('\n')[0]; }
  result.log = [...new Set(log)];
  return result;
}

const attempts = JSON.parse(fs.readFileSync(0, 'utf8'));
const results = [];
let next = 0;
await Promise.all(Array.from({ length: Number(pages) }, async () => {
  const page = await browser.newPage({ viewport: { width: 940, height: 1000 }, locale: 'en-GB' });
  const log = [];
  page.setDefaultTimeout(5000);
  page.on('pageerror', error => log.push(`error: ${error.message}`));
  page.on('console', message => { if (message.type() === 'error') log.push(`error: ${message.text()}`); });
  page.on('response', response => { if (response.status() >= 400) log.push(`${response.status()}: ${response.url().replace(origin, '')}`); });
  await page.goto(origin);
  await page.waitForFunction('window.ready');
  while (next < attempts.length) {
    const mine = next++;
    results[mine] = await attempt(page, log, attempts[mine]);
  }
}));
process.stdout.write(JSON.stringify(results));
await browser.close();
server.close();
