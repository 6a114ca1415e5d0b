// Opens the pages of jobs.json in headless Chromium from their file paths, with the network off.
import assert from 'node:assert/strict';
import fs from 'node:fs';
import path from 'node:path';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';

const folder = process.argv[2];
const jobs = JSON.parse(fs.readFileSync(path.join(folder, 'jobs.json'), 'utf8'));
const axe = fs.readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const pictures = path.join(folder, 'pictures');
fs.mkdirSync(pictures, { recursive: true });
const only = process.argv[3];

const longestFirstPaint = 1000;  // ms
const desktop = { viewport: { width: 1280, height: 900 } };
const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 1 };

const number = text => text.startsWith('–') ? null : Number(text.replace('−', '-').split(' ')[0]);

// A page that is ready; whatever goes wrong in it is in `troubles`.
async function open(browser, file, options) {
  const context = await browser.newContext(options);
  await context.setOffline(true);
  const page = await context.newPage();
  const troubles = [];
  page.on('console', m => { if (m.type() === 'error' || m.type() === 'warning') troubles.push(`console: ${m.text()}`); });
  page.on('pageerror', e => troubles.push(`error: ${e.message}`));
  page.on('request', r => { if (!r.url().startsWith('file:')) troubles.push(`request: ${r.url()}`); });
  page.on('dialog', d => { troubles.push(`dialog: ${d.message()}`); d.dismiss(); });
  await page.goto(pathToFileURL(file).href);
  await page.waitForFunction(() => document.documentElement.dataset.ready === 'yes', null, { timeout: 20000 });
  return { context, page, troubles };
}

const settle = page => page.evaluate(() => new Promise(done => { setTimeout(done, 500); requestAnimationFrame(() => requestAnimationFrame(() => setTimeout(done))); }));
const reading = (page, key) => page.textContent(`#reading dd[data-key=${key}]`);

async function goTo(page, place, tap) {
  await page.evaluate(p => State.change({ sheet: p.sheet }), place);
  await settle(page);
  await page.locator('#stage').scrollIntoViewIfNeeded();
  const point = await page.evaluate(p => { document.getElementById('stage').scrollIntoView({ block: 'center', behavior: 'instant' }); return View.pointOf(p.i, p.j); }, place);
  if (tap) await page.touchscreen.tap(point.x, point.y);
  else await page.mouse.click(point.x, point.y);
  await settle(page);
}

// Pixels may be smaller than a dot of the screen: arrow keys correct what the pointer missed.
async function correct(page, place) {
  const at = await page.evaluate(() => State.cursor);
  assert.ok(Math.abs(at.i - place.i) <= 2 && Math.abs(at.j - place.j) <= 2, `pointer at ${at.i}, ${at.j} for ${place.i}, ${place.j}`);
  await page.focus('#stage');
  for (let n = at.i; n < place.i; ++n) await page.keyboard.press('ArrowRight');
  for (let n = at.i; n > place.i; --n) await page.keyboard.press('ArrowLeft');
  for (let n = at.j; n < place.j; ++n) await page.keyboard.press('ArrowUp');
  for (let n = at.j; n > place.j; --n) await page.keyboard.press('ArrowDown');
  await settle(page);
  assert.deepEqual(await page.evaluate(() => ({ i: State.cursor.i, j: State.cursor.j })), { i: place.i, j: place.j });
}

async function readsAsTheFiles(page, job) {
  const options = await page.$$eval('#map-choice option', all => all.map(o => o.value));
  let compared = 0;
  for (const place of job.places) {
    await goTo(page, place);
    await correct(page, place);
    assert.ok((await reading(page, 'part')).startsWith(place.part), 'part');
    for (const map of options) {
      await page.selectOption('#map-choice', map);
      await settle(page);
      assert.ok((await page.textContent('#map-words')).length > 10, map);
      const key = map === 'freeze_time_s' ? 'freezes' : 'map';
      if (!(map in place.values)) continue;
      const shown = number(await reading(page, key)), truth = place.values[map];
      if (truth === null) assert.equal(shown, null, map);
      else {
        const range = await page.evaluate(m => { const s = Sheets[State.sheet].loaded[m]; return s.high - s.low; }, map);
        assert.ok(Math.abs(shown - truth) <= 6e-4 * Math.abs(truth) + range / 65534, `${map} at ${place.i}, ${place.j}: ${shown}, in the file ${truth}`);
      }
      ++compared;
    }
  }
  return compared;
}

async function playsAndScrubs(page) {
  await page.selectOption('#map-choice', 'temperature');
  const frame = () => page.evaluate(() => State.frame);
  const clock = () => page.textContent('#clock');
  await page.focus('#moment');
  await page.keyboard.press('Home');
  await settle(page);
  assert.equal(await frame(), 0);
  const start = await clock();
  await page.click('#play');
  await page.waitForFunction(() => State.frame >= 3, null, { timeout: 10000 });
  await page.click('#play');
  const stopped = await frame();
  await page.waitForTimeout(350);
  assert.equal(await frame(), stopped, 'paused');
  assert.notEqual(await clock(), start);
  const middling = await reading(page, 'temperature');
  await page.click('#step-on');
  assert.equal(await frame(), stopped + 1);
  await page.click('#step-back');
  await page.click('#step-back');
  assert.equal(await frame(), stopped - 1);
  await page.focus('#moment');
  await page.keyboard.press('End');
  await settle(page);
  assert.equal(await frame(), await page.evaluate(() => Times.length - 1));
  assert.ok(number(await reading(page, 'temperature')) < number(middling), 'it cools');
  const box = await page.locator('#moment').boundingBox();
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
  await settle(page);
  const middle = await frame(), last = await page.evaluate(() => Times.length - 1);
  assert.ok(Math.abs(middle - last / 2) <= 1.5, `scrubbed to ${middle} of ${last}`);
}

async function verdictsShowTheirPlace(page) {
  const buttons = page.locator('button.finding');
  for (let n = 0; n < await buttons.count(); ++n) {
    await buttons.nth(n).click();
    await settle(page);
    const ring = await page.evaluate(() => State.ring);
    assert.ok(ring, `finding ${n} rings its place`);
    const spoken = await page.textContent('#spoken');
    assert.ok(spoken.startsWith('Ringed: '), spoken);
    assert.equal(await page.evaluate(() => document.activeElement.id), 'stage');
    await page.keyboard.press('Escape');
  }
  return buttons.count();
}

async function isAccessible(page, where) {
  await page.evaluate(axe);
  const found = await page.evaluate(() => axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'] }));
  const words = found.violations.map(v => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => `${n.target} ${n.failureSummary}`).join(' | ')}`);
  assert.deepEqual(words, [], `accessibility, ${where}`);
}

async function fitsAcross(page, where) {
  const beyond = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  assert.ok(beyond <= 0, `${where}: ${beyond} px wider than the window`);
}

const shot = (page, name, fullPage = true) => page.screenshot({ path: path.join(pictures, `${name}.png`), fullPage });

async function check(browser, job) {
  const figures = { MB: (fs.statSync(job.page).size / 1e6).toFixed(2) };
  const { context, page, troubles } = await open(browser, job.page, desktop);
  figures.paint = await page.evaluate(() => Math.round(performance.getEntriesByName('first-contentful-paint')[0].startTime));
  await shot(page, `${job.name}-desktop-light`);
  figures.readings = await readsAsTheFiles(page, job);
  await playsAndScrubs(page);
  figures.findings = await verdictsShowTheirPlace(page);
  await isAccessible(page, 'light');
  await fitsAcross(page, 'desktop');
  if (job.hostile) for (const words of job.hostile) assert.ok((await page.textContent('body')).includes(words), words);
  const pdf = await page.pdf({ path: path.join(pictures, `${job.name}.pdf`), preferCSSPageSize: true, printBackground: true });
  figures.pages = (pdf.toString('latin1').match(/\/Type\s*\/Page[^s]/g) || []).length;
  assert.ok(figures.pages >= 1 && figures.pages <= 2, `${figures.pages} printed pages`);
  await page.emulateMedia({ colorScheme: 'dark' });
  await settle(page);
  await shot(page, `${job.name}-desktop-dark`, job.thorough);
  if (job.thorough) await isAccessible(page, 'dark');
  await context.close();
  await checkOnPhone(browser, job, troubles);
  assert.deepEqual(troubles, []);
  return figures;
}

async function checkOnPhone(browser, job, troubles) {
  const small = await open(browser, job.page, phone);
  await shot(small.page, `${job.name}-phone-light`);
  if (job.thorough) await isAccessible(small.page, 'phone');
  await goTo(small.page, job.places[1], true);
  const at = await small.page.evaluate(() => State.kept);
  assert.ok(at && Math.abs(at.i - job.places[1].i) <= 3 && Math.abs(at.j - job.places[1].j) <= 3, 'a tap reads the place');
  assert.ok((await small.page.textContent('#curve-words')).includes('Tapped place'), 'a tap draws its curve');
  await fitsAcross(small.page, 'phone');
  await small.page.setViewportSize({ width: 360, height: 740 });
  await settle(small.page);
  await fitsAcross(small.page, 'narrow phone');
  await small.page.setViewportSize(phone.viewport);
  await small.page.emulateMedia({ colorScheme: 'dark' });
  await settle(small.page);
  await shot(small.page, `${job.name}-phone-dark`, job.thorough);
  troubles.push(...small.troubles);
  await small.context.close();
}

// Two browsers, not two windows of one: what lies behind is not drawn.
const launch = () => chromium.launch({ executablePath: '/usr/bin/chromium', args: process.getuid() === 0 ? ['--no-sandbox'] : [] });
const browsers = await Promise.all([launch(), launch()]);
console.log(`Chromium ${browsers[0].version()}`);
let failed = 0;
const paints = [];

async function report(browser, job) {
  const start = Date.now();
  try {
    const f = await Promise.race([check(browser, job), new Promise((_, no) => { setTimeout(() => no(new Error('not done after 90 s')), 90000).unref(); })]);
    paints.push(f.paint);
    console.log(`${job.name.padEnd(32)} ${f.MB} MB, first paint ${f.paint} ms, ${f.readings} readings, ${f.findings} findings, ${f.pages} printed pages, ${((Date.now() - start) / 1000).toFixed(1)} s`);
  } catch (error) {
    ++failed;
    console.log(`${job.name}: FAILED: ${error.message.split('Browser logs')[0]}`);
  }
}

const queue = jobs.filter(j => !only || j.name === only);
const work = async browser => { while (queue.length > 0) await report(browser, queue.shift()); };
await Promise.all(browsers.map(work));
await Promise.all(browsers.map(b => b.close()));
paints.sort((a, b) => a - b);
const median = paints[Math.floor(paints.length / 2)];
if (median >= longestFirstPaint) { ++failed; console.log(`FAILED: first paint after ${median} ms in the middle of all pages`); }
console.log(failed === 0 ? 'All pages passed.' : `${failed} failed.`);
process.exit(failed === 0 ? 0 : 1);
