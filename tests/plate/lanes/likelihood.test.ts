import { expect, it } from "vitest";
import { seededRandom } from "../../../src/math/random.ts";
import { lay, mostGained, witness } from "../../../src/plate/lanes/likelihood.ts";

it("is never gained more from the sites of lanes than is said without laying signs on them", () => {
  const width = 400;
  for (let seed = 1; seed <= 200; seed++) {
    const random = seededRandom(seed);
    const signs = Array.from({ length: seed % 23 }, () => ({ x: width * random(), weight: random() }));
    const [pitch, phase, sites] = [20 + 60 * random(), 30 * random(), new Float64Array(1 + (seed % 19))];
    lay(witness(signs), pitch, phase, width, sites);
    const most = mostGained(witness(signs), pitch, phase, width, sites.length);
    const gained = sites.reduce((a, b) => a + b, 0);
    expect(most).toBeGreaterThan(gained);
    expect(most).toBeLessThan(gained + 1e-6);
  }
});
