// What the browser tests share: the program under test, a browser, a folder for what the program writes.

import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

export const root = fileURLToPath(new URL("../../", import.meta.url));
const program = process.env.CORNERWISE_BIN ?? join(root, "target/debug/cornerwise");
const browserPath = process.env.CORNERWISE_BROWSER ?? "/usr/bin/chromium";

/** Runs the program in the repository's folder; gives standard output. A fault in a record (status 1) is no failure. */
export function cornerwise(...args) {
  try {
    return execFileSync(program, args, { cwd: root, encoding: "utf8", stdio: ["ignore", "pipe", "ignore"], maxBuffer: 1 << 26 });
  } catch (error) {
    if (error.status === 1) return error.stdout;
    throw new Error(`cornerwise ${args.join(" ")}: ${error.message}`);
  }
}

/** The facts of the records in a file, as JSON. */
export function facts(...args) {
  return cornerwise("annotate", ...args, "--format", "json").trim().split("\n").map((line) => JSON.parse(line));
}

export function folder() {
  const path = mkdtempSync(join(tmpdir(), "cornerwise-browser-"));
  return { path, remove: () => rmSync(path, { recursive: true, force: true }) };
}

export function launch() {
  return chromium.launch({
    executablePath: browserPath,
    args: [
      "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
      "--disable-component-update", "--disable-sync",
    ],
  });
}

/** The four ways a page is looked at. */
export const views = [
  { name: "phone, light", viewport: { width: 390, height: 844 }, colorScheme: "light" },
  { name: "phone, dark", viewport: { width: 390, height: 844 }, colorScheme: "dark" },
  { name: "desk, light", viewport: { width: 1280, height: 900 }, colorScheme: "light" },
  { name: "desk, dark", viewport: { width: 1280, height: 900 }, colorScheme: "dark" },
];

/** Opens a page and keeps account of everything it asks for and complains of. */
export async function open(browser, url, options) {
  const context = await browser.newContext(options);
  const page = await context.newPage();
  const seen = { requests: [], errors: [], dialogs: [] };
  page.on("request", (request) => seen.requests.push(request.url()));
  page.on("pageerror", (error) => seen.errors.push(String(error)));
  page.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) seen.errors.push(message.text());
  });
  page.on("dialog", (dialog) => { seen.dialogs.push(dialog.message()); dialog.dismiss(); });
  await page.goto(url);
  return { page, seen, close: () => context.close() };
}
