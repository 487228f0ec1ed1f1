import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { unzipSync } from "fflate";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { tellPlan } from "../../src/cli/bench/tellPlan.ts";

import type { Result } from "../../src/model/index.ts";
import { readBench } from "../../src/store/index.ts";
import { chalconeRequest, inventedRun } from "../planning/support/run.ts";
import { ALDOL, CHALCONE, hexaneTrial, KETONE } from "../planning/support/scouting.ts";
import { inProcess } from "../support/inProcess.ts";

let folder: string;
beforeEach(async () => {
  folder = await fs.mkdtemp(join(tmpdir(), "bench-cli-"));
});
afterEach(async () => {
  process.exitCode = undefined;
  await fs.rm(folder, { recursive: true, force: true });
});

/** Leaves a result in the folder as if its photos had just been read. */
async function leave(result: Result, photos: readonly string[] = []): Promise<void> {
  for (const photo of photos) {
    await fs.writeFile(join(folder, photo), "photo");
    await fs.utimes(join(folder, photo), 1, 1);
  }
  await fs.mkdir(join(folder, "results"), { recursive: true });
  await fs.writeFile(join(folder, "results", "result.json"), JSON.stringify(result));
}

async function runYaml(text: string): Promise<void> {
  await fs.writeFile(join(folder, "run.yaml"), text);
  await fs.utimes(join(folder, "run.yaml"), 1, 1);
}

const result = () => inventedRun().result;
const page = (name: string) => fs.readFile(join(folder, "results", name), "utf8");

describe("platepool plan", () => {
  it("plans from typed Rf without a folder", async () => {
    const { out, status } = await inProcess(
      "plan",
      "--rf",
      "A=0.55,B=0.37",
      "--load",
      "400mg",
      "--eluent",
      "hexane/ethyl acetate 4:1",
    );
    expect(status).toBe(0);
    expect(out).toMatch(/^column 30 mm x 15 cm, 53 g silica/);
    expect(out).toMatch(/^A: tubes \d+-\d+/m);
  });

  it("takes steps, and prints JSON alone on standard output", async () => {
    const step = "120mL; hexane/ethyl acetate 1:1; A=0.9,B=0.4";
    const { out } = await inProcess("plan", "--rf", "A=0.5,B=0.05", "--load", "0.2g", "--step", step, "--json");
    const { plan } = JSON.parse(out);
    expect(plan.bands[1]).toMatchObject({ component: "B", step: 1 });
    expect(plan.request.steps[1]).toMatchObject({ fromMl: 120, eluent: "hexane/ethyl acetate 1:1" });
  });

  it.each([
    [["--rf", "A=0.55", "--load", "250"], /in which unit/],
    [["--rf", "A=55", "--load", "250mg"], /between 0 and 1/],
    [["--rf", "A=0.5,A=0.4", "--load", "250mg"], /two Rf/],
    [["--rf", "half", "--load", "250mg"], /no Rf/],
    [["--rf", "A=0.5", "--load=-250mg"], /above 0/],
    [["--load", "250mg"], /which Rf/],
    [["--rf", "A=0.5"], /how much/],
    [["--rf", "A=0.5", "--load", "250mg", "--rack", "four by ten"], /4x10/],
    [["--rf", "A=0.5", "--load", "250mg", "--step", "later"], /--step "later"/],
    [["--again"], /folder/],
  ])("%j: one line, status 2", async (args, why) => {
    const { out, err, status } = await inProcess("plan", ...args);
    expect(status).toBe(2);
    expect(out).toBe("");
    expect(err.trimEnd().split("\n")).toHaveLength(1);
    expect(err).toMatch(why);
  });

  it("keeps the plan in the folder and later holds what was found against it", async () => {
    await leave(result());
    const rf = "A=0.55,B=0.37,C=0.2";
    await inProcess("plan", folder, "--rf", rf, "--load", "250mg", "--want", "B");
    const { records } = await readBench(folder);
    expect(records).toHaveLength(1);
    const { out, status } = await inProcess("plan", folder);
    expect(status).toBe(0);
    expect(out).toMatch(/found: 3 components of the plan found, in the planned order, as planned/);
    expect((await readBench(folder)).records).toHaveLength(1);
    expect(await page("plan.html")).toMatch(/planned and found/);
  });

  it("plans from the crude lane of a plate", async () => {
    const base = result();
    const spots = [0.6, 0.4].map((rf, i) => ({ rf, component: "AB"[i], amount: 1 + i }));
    const plate = { id: "1", photos: ["p.jpg"], lanes: [{ index: 1, label: "crude", fraction: null, spots }] };
    const components = [0.6, 0.4].map((rf, i) => ({ ...base.components[i], rf }));
    await leave({ ...base, plates: [plate], components, fractions: [], pools: [], profiles: [] } as unknown as Result);
    const { out, err } = await inProcess("plan", folder, "--load", "100mg");
    expect(err).toBe("");
    expect(out).toMatch(/^B: tubes/m);
  });

  it("plans the second column of a mixed pool, estimating its mass", async () => {
    await leave(result());
    await inProcess("plan", folder, "--rf", "A=0.55,B=0.37,C=0.2", "--load", "250mg");
    const { out, status } = await inProcess("plan", folder, "--again");
    expect(status).toBe(0);
    expect(out).toMatch(/pool P\d, [\d.]+ mg \(estimated\)/);
    expect((await inProcess("plan", folder, "--again", "P99")).err).toMatch(/no pool "P99"/);
  });
});

describe("platepool weigh", () => {
  const pool = () => result().pools.find((p) => p.kind === "clean")!.id;

  it("adds up masses, the last word on each flask, and the yield", async () => {
    await leave(result());
    await inProcess(
      "weigh",
      folder,
      "--load",
      "250mg",
      "--molar-mass",
      "208.26",
      "--limiting",
      "1 mmol",
      "--component",
      "A",
    );
    await inProcess("weigh", folder, "--pool", pool(), "--tare", "45 g", "--gross", "45.5 g");
    const { out } = await inProcess(
      "weigh",
      folder,
      "--pool",
      pool(),
      "--tare",
      "45000 mg",
      "--gross",
      "45.05g",
      "--json",
    );
    const balance = JSON.parse(out);
    expect(balance.totalMg).toBeCloseTo(50, 6);
    expect(balance.totalPercent).toBeCloseTo(20, 6);
    expect(balance.product.yieldPercent).toBeCloseTo((100 * 50) / 208.26, 6);
    expect((await readBench(folder)).records).toHaveLength(4);
    expect((await inProcess("weigh", folder, "--pool", pool(), "--strike")).out).toMatch(/recovered 0.0 mg/);
  });

  it.each([
    [["--tare", "45.2g", "--gross", "45.1g"], /outweighs/],
    [["--tare", "45.2", "--gross", "45.3g"], /in which unit/],
    [["--tare=-1g", "--gross", "45.3g"], /negative/],
    [["--tare", "45.2g"], /--gross/],
    [["--tare", "45123g", "--gross", "45200g"], /mg typed as g/],
  ])("%j is refused, told in one line, and kept as refused", async (args, why) => {
    await leave(result());
    const { err, out, status } = await inProcess("weigh", folder, "--pool", pool(), ...args);
    expect(status).toBe(2);
    expect(out).toBe("");
    expect(err).toMatch(why);
    expect(err.trimEnd().split("\n")).toHaveLength(1);
    const { records } = await readBench(folder);
    expect(records.map((r) => r.entry.kind)).toEqual(["refused"]);
    const typed = records[0].entry.kind === "refused" ? records[0].entry.typed : "";
    for (const word of args.flatMap((a) => /[\d.]+g?$/.exec(a) ?? [])) expect(typed).toContain(word);
  });

  it("asks where more came off than was loaded, and keeps the figures", async () => {
    await leave(result());
    await inProcess("weigh", folder, "--load", "250mg");
    const { err, status } = await inProcess("weigh", folder, "--pool", pool(), "--tare", "45g", "--gross", "295g");
    expect(status).toBe(0);
    expect(err).toMatch(/mg typed for g/);
    expect((await readBench(folder)).records.at(-1)?.entry.kind).toBe("weighing");
  });
});

describe("letters of the plan and of the reading", () => {
  it("the wanted component keeps its name and yield where the reading calls it otherwise", async () => {
    // The plan knows two components, K and P; the reading calls them A and B.
    await leave(result());
    await runYaml("product: { molar_mass: 208.26, limiting_mmol: 1 }\ncolumn: { names: { P: chalcone } }\n");
    await inProcess("plan", folder, "--rf", "K=0.55,P=0.37", "--load", "250mg", "--want", "P");
    const held = result().pools.find((p) => p.kind === "clean" && p.components[0] === "B")!.id;
    const { out } = await inProcess("weigh", folder, "--pool", held, "--tare", "45g", "--gross", "45.1g");
    expect(out).toMatch(/yield of B: 100 mg, 0\.480 mmol, 48 % of 208 mg/);
    expect((await inProcess("writeup", folder)).out).toMatch(/gave chalcone \(B\)/);
    await inProcess("weigh", folder, "--molar-mass", "208.26", "--limiting", "2mmol", "--component", "chalcone");
    expect((await inProcess("weigh", folder)).out).toMatch(/yield of B: .* 24 % of 417 mg/);
  });
});

describe("platepool sheet", () => {
  it("writes the sheet with the rack of run.yaml", async () => {
    await leave(result());
    await runYaml(
      "run: chalcone 3\nfractions: { count: 24, volume_ml: 10 }\nrack: { rows: 4, columns: 10, fill: serpentine }\ntubes:\n  - { tube: 9, volume_ml: 4, note: ran over }\n",
    );
    const { status, out } = await inProcess("sheet", folder);
    expect(status).toBe(0);
    expect(out).toMatch(/mL flask\. Filter through a fritted funnel first/);
    const html = await page("sheet.html");
    expect(html).toMatch(/Rack of 4 × 10.*to and fro/);
    expect(html).toContain("ran over");
  });

  it("takes the way of filling for the rack that run.yaml tells of, and asks for a rack where there is none", async () => {
    await leave(result());
    for (const command of ["sheet", "plan"]) {
      const args = command === "plan" ? ["--rf", "A=0.5,B=0.3", "--load", "100mg"] : [];
      const { err, status } = await inProcess(command, folder, "-q", "--fill", "columns", ...args);
      expect([command, status]).toEqual([command, 2]);
      expect(err).toMatch(/^--fill and --start are said of a rack: give --rack too/);
    }
    await runYaml("rack: { rows: 4, columns: 10, fill: serpentine, start: top-right }\n");
    await inProcess("sheet", folder, "-q", "--fill", "columns");
    expect(await page("sheet.html")).toMatch(/Rack of 4 × 10 from above, filled column by column from the top right/);
  });

  it("asks about a rack that is too small, and about volumes nobody gave", async () => {
    await leave(result());
    const small = await inProcess("sheet", folder, "--rack", "2x5");
    expect(small.status).toBe(2);
    expect(small.err).toMatch(/do not fit the rack of 2 x 5.*\?/);
    expect((await inProcess("sheet", folder, "--rack", "2x5", "--racks", "4")).status).toBe(0);
    expect((await inProcess("sheet", folder)).err).toMatch(
      /No tube has a volume; 10 mL each is assumed. Is that right\?/,
    );
  });
});

describe("platepool writeup", () => {
  it("writes paragraph, tables and an archive that holds all of it", async () => {
    await leave(result());
    await runYaml("run: Chalcone 3/2\n");
    await leave({ ...result(), run: "Chalcone 3/2" });
    await inProcess("plan", folder, "--rf", "A=0.55,B=0.37,C=0.2", "--load", "250mg");
    const { out, status } = await inProcess("writeup", folder);
    expect(status).toBe(0);
    expect(out).toMatch(/The crude product \(250 mg\) was chromatographed/);
    const names = await fs.readdir(join(folder, "results"));
    expect(names).toEqual(
      expect.arrayContaining([
        "writeup.md",
        "writeup.html",
        "spots.csv",
        "tubes.csv",
        "plan.csv",
        "recovery.csv",
        "Chalcone-3-2.eln",
      ]),
    );
    const zip = unzipSync(await fs.readFile(join(folder, "results", "Chalcone-3-2.eln")));
    const inside = Object.keys(zip);
    expect(inside).toEqual(
      expect.arrayContaining([
        "Chalcone-3-2/ro-crate-metadata.json",
        "Chalcone-3-2/run/bench.jsonl",
        "Chalcone-3-2/run/run.yaml",
        "Chalcone-3-2/run/results/result.json",
        "Chalcone-3-2/run/results/writeup.md",
      ]),
    );
    const graph = JSON.parse(new TextDecoder().decode(zip["Chalcone-3-2/ro-crate-metadata.json"]))["@graph"];
    expect(graph.filter((e: { "@type": string }) => e["@type"] === "File")).toHaveLength(inside.length - 1);
  });
});

describe("platepool scout", () => {
  it("ranks the eluents that run.yaml names", async () => {
    const percents = [5, 20, 60];
    const plates = percents.map((percent, i) => ({
      id: `p${i + 1}`,
      photos: [`s${i + 1}.jpg`],
      lanes: hexaneTrial(percent, [KETONE, CHALCONE, ALDOL], true).lanes.map((lane) => ({
        index: lane.lane,
        label: lane.label,
        fraction: null,
        spots: lane.spots.map((s) => ({
          rf: s.rf,
          rf_sd: s.rfSd,
          width_rf: s.widthRf,
          tailing: s.tailing,
          amount: s.amount,
          confidence: 0.99,
        })),
      })),
    }));
    const photos = plates.map((p) => p.photos[0]);
    const told = photos.map((file) => ({ file, status: "read" }));
    const lines = percents.map(
      (p, i) => `  - { photos: [s${i + 1}.jpg], eluent: "${p} % ethyl acetate in hexane", lanes: [crude, chalcone] }`,
    );
    await runYaml(`run: scouting\nscout: { want: chalcone }\nplates:\n${lines.join("\n")}\n`);
    await leave({ ...result(), photos: told, plates } as unknown as Result, photos);
    const { out, status } = await inProcess("scout", folder);
    expect(status).toBe(0);
    expect(out).toMatch(/^1\. 20 % ethyl acetate in hexane/);
    expect(await page("eluents.html")).toContain("B (chalcone)");
    expect(await page("eluents.csv")).toMatch(/^rank,eluent,component/);
    const planned = await inProcess("plan", folder, "--load", "200mg", "--json");
    expect(JSON.parse(planned.out).plan.request).toMatchObject({ want: "B", names: { B: "chalcone" } });
  });

  it("says where to write the eluents when none is named", async () => {
    await leave({ ...result(), plates: [{ id: "p", photos: [], lanes: [] }] } as unknown as Result);
    const { err, status } = await inProcess("scout", folder);
    expect(status).toBe(2);
    expect(err).toMatch(/run\.yaml names no eluent: write eluent:/);
  });

  it("points at the line of a run file that is wrong", async () => {
    await runYaml("plates:\n  - { photos: [a.jpg], eluent: 5 }\n");
    expect((await inProcess("scout", folder)).err).toMatch(/run\.yaml line 2: .*eluent/);
  });
});

describe("the plan after a reading", () => {
  const told = async () => {
    let err = "";
    const stderr = vi.spyOn(process.stderr, "write").mockImplementation((text) => {
      err += text;
      return true;
    });
    try {
      await tellPlan(folder, result());
      return err;
    } finally {
      stderr.mockRestore();
    }
  };

  it("is silent without a plan; with one tells what is off and renews its page", async () => {
    await leave(result());
    expect(await told()).toMatch(/^$/);
    await inProcess("plan", folder, "--rf", "A=0.8,B=0.65,C=0.45", "--load", "250mg");
    expect(await told()).toMatch(/Against the plan: .*late.*weaker/);
    expect(await page("plan.html")).toMatch(/planned and found/);
  });

  it("that cannot be does not spoil the reading", async () => {
    await leave(result());
    await runYaml("column: { load_mg: 250, want: Z, steps: [{ rf: { A: 0.5 } }] }\n");
    expect(await told()).toMatch(/^The plan is left out: "Z" is wanted/);
  });
});

describe("nothing typed is lost", () => {
  it("a plan that cannot be is kept as refused, with what was typed", async () => {
    await leave(result());
    const { err, status } = await inProcess(
      "plan",
      folder,
      "--rf",
      "A=55,B=0.37",
      "--load",
      "250mg",
      "--diameter",
      "20mm",
    );
    expect(status).toBe(2);
    expect(err).toMatch(/between 0 and 1.*kept in the bench book as refused/);
    const [{ entry }] = (await readBench(folder)).records;
    expect(entry).toMatchObject({ kind: "refused", typed: "load 250mg, rf A=55,B=0.37, diameter 20mm" });
    expect((await inProcess("plan", folder)).status).toBe(2);
  });

  it("the request of a plan comes back from the book as it was", async () => {
    await leave(result());
    await inProcess(
      "plan",
      folder,
      "--rf",
      "A=0.55,B=0.37",
      "--load",
      "250mg",
      "--rack",
      "4x10",
      "--fill",
      "serpentine",
      "--gravity",
    );
    const [{ entry }] = (await readBench(folder)).records;
    expect(entry).toMatchObject({
      kind: "plan",
      request: {
        ...chalconeRequest(),
        steps: [{ rf: { A: 0.55, B: 0.37 } }],
        names: {},
        amounts: {},
        want: null,
        drive: "gravity",
        rack: { rows: 4, columns: 10, fill: "serpentine", start: "top-left" },
      },
    });
  });
});
