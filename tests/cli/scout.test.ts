import { promises as fs } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { currentResult, openBench } from "../../src/cli/bench/openBench.ts";
import { needTrials } from "../../src/cli/bench/scoutTrials.ts";
import type { EluentRanking } from "../../src/model/index.ts";
import { rankEluents } from "../../src/planning/index.ts";
import { ALDOL, CHALCONE, KETONE, rfOf } from "../planning/support/scouting.ts";
import { scoutPhotos } from "./scoutPhotos.ts";

const SUBSTANCES = [KETONE, CHALCONE, ALDOL];
const PERCENTS = [5, 15, 50];
const FLAGS = { policy: "balance", workers: 1, quiet: true } as const;

describe("eluents from photos (rendered plates of known Rf)", () => {
  let folder: string;
  let ranking: EluentRanking;
  beforeAll(async () => {
    folder = await fs.mkdtemp(join(tmpdir(), "scout-"));
    for (const { file, bytes } of await scoutPhotos(SUBSTANCES, PERCENTS, 3))
      await fs.writeFile(join(folder, file), bytes);
    const plates = PERCENTS.map(
      (p) =>
        `  - { photos: [eluent-${p}.jpg], eluent: "${p} % ethyl acetate in hexane", lanes: [crude, ketone, chalcone, aldol] }`,
    );
    await fs.writeFile(join(folder, "run.yaml"), `run: scouting\nplates:\n${plates.join("\n")}\n`);
    const bench = await openBench(folder);
    const { result } = await currentResult(folder, FLAGS, false);
    ranking = rankEluents(needTrials(result, bench.run), "chalcone");
  }, 240_000);
  afterAll(() => fs.rm(folder, { recursive: true, force: true }));

  it("finds every substance by name in every eluent, within 0.03 of its true Rf", () => {
    expect(ranking.components.map((c) => c.name)).toEqual(["ketone", "chalcone", "aldol"]);
    for (const percent of PERCENTS) {
      const trial = ranking.trials.find((t) => t.eluent.text.startsWith(`${percent} %`))!;
      SUBSTANCES.forEach((substance, i) => {
        const spot = trial.spots.find((s) => s.component === "ABC"[i]);
        // At the start line a spot may go unseen: below Rf 0.02 none is asked for.
        if (!spot) expect(rfOf(substance, percent / 100)).toBeLessThan(0.02);
        else expect(Math.abs(spot.rf - rfOf(substance, percent / 100))).toBeLessThan(0.03);
      });
    }
  });

  it("ranks the one first in which the chalcone runs best", () => {
    expect(ranking.trials[0].eluent.text).toBe("15 % ethyl acetate in hexane");
  });
});
