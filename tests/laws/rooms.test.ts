import { spawnSync } from "node:child_process";
import { copyFileSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterEach, describe, expect, it } from "vitest";

interface Rule {
  readonly name: string;
  readonly from: { readonly path?: string };
  readonly to: { readonly path?: string; readonly pathNot?: string };
}

const config = (await import(resolve(".dependency-cruiser.mjs"))).default as { forbidden: Rule[] };
const rules = config.forbidden;
const rooms = rules.flatMap((r) => (/^room-(?!unknown)/.test(r.name) ? [r.name.slice(5)] : []));

let house: string | null = null;
afterEach(() => house && rmSync(house, { recursive: true, force: true }));

/** A small house beside the real one, with the same rules and packages. */
function build(files: Readonly<Record<string, string>>): string {
  house = mkdtempSync(join(tmpdir(), "house-"));
  for (const name of [".dependency-cruiser.mjs", "package.json", "tsconfig.json"])
    copyFileSync(name, join(house, name));
  symlinkSync(resolve("node_modules"), join(house, "node_modules"));
  for (const [file, text] of Object.entries(files)) {
    mkdirSync(dirname(join(house, file)), { recursive: true });
    writeFileSync(join(house, file), text);
  }
  return house;
}

interface Breach {
  readonly from: string;
  readonly rule: { readonly name: string };
}

function breaches(files: Readonly<Record<string, string>>): Breach[] {
  const cwd = build(files);
  const args = ["--config", ".dependency-cruiser.mjs", "--output-type", "json", "src", "tests"];
  const run = spawnSync(resolve("node_modules/.bin/depcruise"), args, { cwd, encoding: "utf8", maxBuffer: 1e8 });
  return (JSON.parse(run.stdout) as { summary: { violations: Breach[] } }).summary.violations;
}

const uses = (what: string) => `import "${what}";\nexport const x = 1;\n`;

/** A house that keeps every rule: each room one file that imports all it may. */
function sound(): Record<string, string> {
  const files: Record<string, string> = { "tests/all.test.ts": uses("../src/cli/main.ts") };
  for (const room of rooms) {
    const others = rooms.filter((other) => other !== room && mayImport(room, other));
    const imports = others.map((other) => `import "../${other}/index.ts";\n`).join("");
    files[`src/${room}/${room === "cli" ? "main" : "index"}.ts`] = `${imports}export const x = 1;\n`;
  }
  return files;
}

function mayImport(room: string, other: string): boolean {
  const rule = rules.find((r) => r.name === `room-${room}`)!;
  return new RegExp(rule.to.pathNot!).test(`src/${other}/index.ts`);
}

/** One breach for each rule of its own; room and stage rules are made from the table. */
const BREACHES: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  "room-unknown": { "src/drawer/index.ts": uses("../model/index.ts") },
  "render-never-sees-reader": {
    "src/render/a.ts": uses("../codec/a.ts"),
    "src/codec/a.ts": uses("../plate/index.ts"),
  },
  "node-at-the-edge": { "src/math/a.ts": uses("node:fs") },
  "page-sees-little": { "src/review/page/a.ts": uses("../../store/index.ts") },
  "opencv-one-door": { "src/plate/a.ts": uses("opencv-wasm") },
  "codecs-one-door": { "src/report/a.ts": uses("sharp") },
  "no-cycles": { "src/math/a.ts": uses("./b.ts"), "src/math/b.ts": uses("./a.ts") },
  "no-orphans": { "src/math/alone.ts": "export const x = 1;\n" },
  "src-never-imports-tests": { "src/math/a.ts": uses("../../tests/all.test.ts") },
  "no-unlisted-package": { "src/math/a.ts": uses("vitest") },
};

function breachOf(rule: Rule): Readonly<Record<string, string>> {
  const stage = /^stage-([^-]+)-(.+)$/.exec(rule.name);
  if (stage) {
    const other = /\((\w+)/.exec(rule.to.path!)![1];
    const [, room, own] = stage;
    const files = { [`src/${room}/${own}/index.ts`]: uses(`../${other}/index.ts`) };
    return { [`src/${room}/${other}/index.ts`]: "export const x = 1;\n", ...files };
  }
  const room = /^room-(?!unknown)(.+)$/.exec(rule.name)?.[1];
  if (room === undefined) return BREACHES[rule.name] ?? {};
  const other = rooms.find((r) => r !== room && !mayImport(room, r))!;
  return { [`src/${room}/breach.ts`]: uses(`../${other}/index.ts`) };
}

describe("who may import whom", () => {
  it("a house that keeps the rules passes", () => {
    expect(breaches(sound())).toEqual([]);
  });

  it("each rule catches the breach planted for it", () => {
    const planted: Record<string, string> = sound();
    for (const rule of rules)
      for (const [file, text] of Object.entries(breachOf(rule))) planted[file] = (planted[file] ?? "") + text;
    const found = breaches(planted);
    const caught = (rule: Rule) =>
      found.some((b) => b.rule.name === rule.name && Object.keys(breachOf(rule)).includes(b.from));
    expect(rules.filter((rule) => !caught(rule)).map((rule) => rule.name)).toEqual([]);
  });
});
