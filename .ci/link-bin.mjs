// After a build: `npx platepool` in this folder runs the built program at once. Without the link npm would install the
// project into its own cache first, which builds everything again.
import { chmodSync, mkdirSync, rmSync, symlinkSync } from "node:fs";

if (process.platform !== "win32") {
  chmodSync("dist/cli/main.js", 0o755);
  mkdirSync("node_modules/.bin", { recursive: true });
  rmSync("node_modules/.bin/platepool", { force: true });
  symlinkSync("../../dist/cli/main.js", "node_modules/.bin/platepool");
}
