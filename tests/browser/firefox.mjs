// Goes through a book in Firefox by WebDriver BiDi, and tells what it saw as JSON:
//   node firefox.mjs FIREFOX MODULES ADDRESS...
import { createRequire } from "node:module";
import { join } from "node:path";

const [firefox, modules, ...addresses] = process.argv.slice(2);
const puppeteer = createRequire(join(modules, "package.json"))("puppeteer-core");
const PATIENCE = { timeout: 120_000, polling: 50 };

async function until(page, ask) {
  const ends = Date.now() + PATIENCE.timeout;
  for (;;) {
    const found = await page.evaluate(ask);
    if (found) return found;
    if (Date.now() > ends) throw new Error(`this never came: ${ask}`);
    await new Promise((resolve) => setTimeout(resolve, PATIENCE.polling));
  }
}

async function visit(browser, root) {
  const page = await browser.newPage();
  const errors = [];
  page.on("console", (message) => message.type() === "error" && errors.push(message.text()));
  page.on("pageerror", (error) => errors.push(String(error)));
  const seen = { root };
  await page.goto(`${root}index.html`);
  seen.home = await page.title();
  await page.goto(`${root}calculators/vacuum_units.html`);
  await until(page, `baybook.python.status === "ready"`);
  await page.evaluate(`(() => {
    const field = document.querySelector("[name=reading]");
    field.value = "7";
    field.dispatchEvent(new Event("input", { bubbles: true }));
  })()`);
  seen.link = await until(page, `[...document.querySelectorAll(".links a")].map((link) => link.href).find((href) => href.includes("start=7"))`);
  await page.goto(`${root}procedures/air/work.html`);
  seen.steps = await page.evaluate(`document.querySelectorAll(".test").length`);
  seen.job = await page.evaluate(`typeof baybook.job`);
  seen.python = await page.evaluate(`baybook.python.call({ method: "run", name: "fuse", fields: {} }).then((answer) => Object.keys(answer.results).length)`);
  seen.errors = errors;
  await page.close();
  return seen;
}

const browser = await puppeteer.launch({
  browser: "firefox",
  executablePath: firefox,
  headless: true,
  extraPrefsFirefox: { "network.proxy.type": 1, "network.proxy.http": "127.0.0.1", "network.proxy.http_port": 9, "network.proxy.ssl": "127.0.0.1", "network.proxy.ssl_port": 9, "network.proxy.no_proxies_on": "127.0.0.1" },
});
try {
  const seen = [];
  for (const root of addresses) seen.push(await visit(browser, root));
  console.log(JSON.stringify(seen));
} finally {
  await browser.close();
}
