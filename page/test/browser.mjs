// The page in a real browser, on a phone's and a laptop's screen, as a file and without network: every file of in_browser.
// Arguments: the program, how many random roofs, and the name of one file, if only that one is wanted.

import { readdirSync } from "node:fs";
import * as harness from "./harness.mjs";

const folder = new URL("./in_browser/", import.meta.url);
for (const file of readdirSync(folder).sort()) {
  if (process.argv[4] === undefined || file.startsWith(process.argv[4])) await import(new URL(file, folder).href);
}
await harness.chrome.close();
if (harness.failed.length > 0) throw new Error(harness.failed.join("\n\n"));
console.log(`page: ${harness.passed} tests passed in the browser`);
