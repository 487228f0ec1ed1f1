import { existsSync } from "node:fs";
import { type Browser, chromium } from "playwright-core";

const PLACES = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
];

const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** A real Chromium: the one named by $CHROMIUM, the system's, or one that playwright installed. */
function findChromium(): string {
  const named = process.env["CHROMIUM"];
  const found = [...(named ? [named] : []), ...PLACES, chromium.executablePath()].find((path) => existsSync(path));
  if (found === undefined)
    throw new Error(
      "no Chromium on this machine: install one (apt-get install chromium, or npx playwright-core install chromium), or name it in $CHROMIUM",
    );
  return found;
}

/** Starts it headless, with an empty profile of its own. */
export function startBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: findChromium(), headless: true, args: FLAGS });
}
