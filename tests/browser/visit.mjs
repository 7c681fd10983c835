// Opens one page in a headless browser, does what the steps on standard input say, and answers each on standard output.
//   node visit.mjs TOOLS BROWSER PAGE < steps.json
// TOOLS is the folder of node modules; scripts of the page can be switched off with {"scripts": false} as the first step.
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import { pathToFileURL } from 'node:url';

const [tools, browserPath, file] = process.argv.slice(2);
const require = createRequire(pathToFileURL(`${tools}/`));
const { chromium } = require('playwright-core');
const axe = readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
const steps = JSON.parse(readFileSync(0, 'utf8'));
const scripts = steps[0]?.scripts !== false;

const browser = await chromium.launch({ executablePath: browserPath, args: ['--no-sandbox', '--disable-gpu'] });
const context = await browser.newContext({ javaScriptEnabled: scripts, bypassCSP: false });
let page = await context.newPage();
const asked = [];
const complaints = [];
const listen = (one) => {
  one.on('request', (request) => { if (!request.url().startsWith('data:')) asked.push(request.url()); });
  one.on('console', (message) => { if (message.type() === 'error') complaints.push(message.text()); });
  one.on('pageerror', (error) => complaints.push(String(error)));
};
listen(page);
const address = pathToFileURL(file).href;
await page.goto(address);

const wcag = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'];
const verbs = {
  scripts: async () => null,
  viewport: async ([width, height]) => page.setViewportSize({ width, height }),
  media: async (features) => page.emulateMedia(features),
  check: async (selector) => page.locator(selector).check(),
  uncheck: async (selector) => page.locator(selector).uncheck(),
  click: async (selector) => page.locator(selector).click(),
  press: async (key) => page.keyboard.press(key),
  focus: async (selector) => page.locator(selector).first().focus(),
  reload: async () => { await page.goto(address); },
  checked: async (selector) => page.locator(selector).isChecked(),
  visible: async (selector) => page.locator(selector).evaluateAll((all) => all.filter((e) => e.checkVisibility()).length),
  text: async (selector) => page.locator(selector).evaluateAll((all) => all.filter((e) => e.checkVisibility()).map((e) => e.innerText.replace(/\s+/g, ' ').trim())),
  after: async (selector) => page.locator(selector).first().evaluate((e) => getComputedStyle(e, '::after').content),
  computed: async ([selector, property]) => page.locator(selector).first().evaluate((e, name) => getComputedStyle(e).getPropertyValue(name), property),
  loaded: async (selector) => page.locator(selector).evaluateAll((all) => all.map((e) => e.complete && e.naturalWidth > 0)),
  overflow: async () => page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth),
  wide: async () => page.evaluate(() => [...document.querySelectorAll('body *')].filter((e) => e.getBoundingClientRect().right > document.documentElement.clientWidth + 0.5 && e.checkVisibility()).map((e) => `${e.tagName}.${e.className}: ${e.textContent.trim().slice(0, 60)}`)),
  focused: async () => page.evaluate(() => document.activeElement.id || document.activeElement.name || document.activeElement.className || document.activeElement.getAttribute('href') || document.activeElement.tagName),
  small: async (selector) => page.locator(selector).evaluateAll((all) => all.filter((e) => e.checkVisibility()).map((e) => e.getBoundingClientRect()).filter((b) => b.width < 24 || b.height < 24).length),
  stored: async () => page.evaluate(() => ({ ...localStorage })),
  screenshot: async (path) => { await page.screenshot({ path, fullPage: true }); },
  pdf: async (path) => { await page.pdf({ path, preferCSSPageSize: true }); },
  asked: async () => asked.filter((url) => url !== address),
  complaints: async () => complaints,
  axe: async () => {
    const found = await page.evaluate(async ([source, tags]) => {
      (0, Function)(source)();
      return globalThis.axe.run(document, { runOnly: { type: 'tag', values: tags }, resultTypes: ['violations'] });
    }, [axe, wcag]).catch((error) => ({ violations: [{ id: 'could-not-run', nodes: [{ html: String(error) }] }], passes: [] }));
    return { violations: found.violations.map((v) => [v.id, v.nodes.length, v.nodes[0].html.slice(0, 200)]), passes: found.passes.length };
  },
};
const answers = [];
for (const step of steps) {
  const [verb, argument] = Object.entries(step)[0];
  answers.push((await verbs[verb](argument)) ?? null);
}
await browser.close();
process.stdout.write(JSON.stringify(answers));
