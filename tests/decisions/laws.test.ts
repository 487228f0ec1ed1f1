import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  acceptPools,
  type Divided,
  judgeAct,
  mergePools,
  moveTubes,
  namePool,
  presentDivision,
  replay,
  splitPool,
  stretchPool,
} from "../../src/decisions/index.ts";
import type { Act, DecidedPool, Decisions, JournalLine, Mending } from "../../src/model/index.ts";
import { PlatepoolError } from "../../src/model/index.ts";
import { drawnResult } from "./sampleRun.ts";

const READ = drawnResult("..AAAxxBBBB.");
const TUBES = READ.fractions.map((f) => f.number);
const PLATE = { photos: ["p1.jpg"], place: 0 };

const nth = <T>(items: readonly T[], n: number) => items[n % items.length];
type Deed = readonly [what: number, a: number, b: number, c: number];

/** What a person may do next; some of it cannot be, and is refused. */
function actOf([what, a, b, c]: Deed, now: Decisions): Act {
  const pools = presentDivision(READ, now.division);
  const name = (n: number) => nth(pools, n).name;
  const divide = (d: Divided): Act => ({ kind: "divide", ...d });
  const mendings: Mending[] = [
    { what: "origin", plate: PLATE, y: 0.8 + 0.01 * (a % 10) },
    { what: "spot-strike", plate: PLATE, spot: { lane: 4 / 13, rf: 0.55, y: 0.46 } },
    { what: "lane-name", plate: PLATE, lane: { x: (1 + (b % 12)) / 13, label: "crude", fraction: null } },
    { what: "components-merge", rf: [0.55, 0.37] },
  ];
  const choices: (() => Act)[] = [
    () => divide(acceptPools(READ, pools, a % 2 === 0 ? null : [name(b)])),
    () => divide(moveTubes(READ, pools, [nth(TUBES, a), nth(TUBES, b)], c % 3 === 0 ? null : name(c))),
    () => divide(splitPool(READ, pools, name(a), nth(TUBES, b))),
    () => divide(mergePools(READ, pools, [name(a), name(b), name(c)])),
    () => divide(namePool(pools, name(a), `pool ${b}`)),
    () =>
      divide(
        stretchPool(
          READ,
          pools,
          name(a),
          Math.min(nth(TUBES, b), nth(TUBES, c)),
          Math.max(nth(TUBES, b), nth(TUBES, c)),
        ),
      ),
    () => ({ kind: "mend", mending: nth(mendings, c) }),
    () => ({ kind: "log", entry: { from: nth(TUBES, a), to: nth(TUBES, a + (b % 3)), volumeMl: c % 20 } }),
    () => ({ kind: "undo", of: now.undo ?? 0 }),
    () => ({ kind: "redo", of: now.redo ?? 0 }),
    () => ({ kind: "return", to: now.last === 0 ? 0 : a % now.last }),
  ];
  return nth(choices, what)();
}

interface Session {
  readonly lines: readonly JournalLine[];
  /** What stood after each line; the first entry: before any. */
  readonly states: readonly Decisions[];
}

/** A journal as it comes about: each deed judged against what stands, the refused ones left out. */
function session(deeds: readonly Deed[]): Session {
  const lines: JournalLine[] = [];
  const states = [replay([]).decisions];
  for (const deed of deeds) {
    const now = states[lines.length];
    try {
      const act = actOf(deed, now);
      judgeAct(act, now, READ, null);
      lines.push({ id: lines.length + 1, at: "2026-02-03T10:00:00.000Z", on: null, act });
      states.push(replay(lines).decisions);
    } catch (error) {
      if (!(error instanceof PlatepoolError)) throw error;
    }
  }
  return { lines, states };
}

const sessions = fc
  .array(fc.tuple(fc.nat(9), fc.nat(40), fc.nat(40), fc.nat(40)), { maxLength: 30 })
  .map((deeds) => session(deeds));
const plain = ({ division, plates, components }: Decisions) => ({ division, plates, components });
const added = (lines: readonly JournalLine[], ...acts: Act[]) => [
  ...lines,
  ...acts.map((act, i): JournalLine => ({ id: lines.length + 1 + i, at: "2026-02-03T11:00:00.000Z", on: null, act })),
];

describe("laws of the journal", () => {
  it("what stands after a line never depends on what follows", () => {
    fc.assert(
      fc.property(sessions, ({ lines, states }) => {
        lines.forEach((_, k) => {
          expect(replay(lines.slice(0, k)).decisions).toEqual(states[k]);
        });
        expect(replay(lines).findings).toEqual([]);
      }),
      { numRuns: 150 },
    );
  });

  it("undo, then redo, is as if nothing had been done", () => {
    fc.assert(
      fc.property(sessions, ({ lines, states }) => {
        const now = states[states.length - 1];
        fc.pre(now.undo !== null);
        const of = now.undo as number;
        const { decisions } = replay(added(lines, { kind: "undo", of }, { kind: "redo", of }));
        expect({ ...decisions, last: now.last }).toEqual(now);
      }),
    );
  });

  it("all undone is nothing decided, and all redone is everything again", () => {
    fc.assert(
      fc.property(sessions, ({ lines, states }) => {
        const end = states[states.length - 1];
        let all = lines;
        let now = end;
        while (now.undo !== null) {
          all = added(all, { kind: "undo", of: now.undo });
          now = replay(all).decisions;
        }
        expect(plain(now)).toEqual(plain(states[0]));
        for (let n = all.length - lines.length; n > 0; n--) {
          all = added(all, { kind: "redo", of: now.redo as number });
          now = replay(all).decisions;
        }
        expect(plain(now)).toEqual(plain(end));
      }),
    );
  });

  it("a return brings back what stood after that act, and an undo takes the return back", () => {
    fc.assert(
      fc.property(sessions, fc.nat(), ({ lines, states }, n) => {
        fc.pre(lines.length > 0);
        const to = n % lines.length;
        const back = added(lines, { kind: "return", to });
        expect(plain(replay(back).decisions)).toEqual(plain(states[to]));
        const undone = added(back, { kind: "undo", of: lines.length + 1 });
        expect(plain(replay(undone).decisions)).toEqual(plain(states[states.length - 1]));
      }),
    );
  });

  it("after something new there is nothing to redo", () => {
    fc.assert(
      fc.property(sessions, ({ lines, states }) => {
        lines.forEach(({ act }, k) => {
          if (act.kind !== "undo" && act.kind !== "redo") expect(states[k + 1].redo).toBeNull();
        });
      }),
    );
  });

  it("nothing is erased: every line stays in the history, and what does not stand is told", () => {
    fc.assert(
      fc.property(sessions, ({ lines, states }) => {
        const { history } = replay(lines);
        expect(history.map((h) => h.line)).toEqual(lines);
        const division = states[states.length - 1].division;
        const standing = history.filter((h) => h.stands && h.line.act.kind === "divide").at(-1);
        expect(standing?.line.id ?? null).toBe(division?.act ?? null);
      }),
    );
  });

  it("however it is divided, every tube stands in one pool and every pool has a name of its own", () => {
    fc.assert(
      fc.property(sessions, ({ states }) => {
        for (const { division } of states) {
          const pools: readonly DecidedPool[] = presentDivision(READ, division);
          expect(pools.flatMap((p) => p.fractions).sort((a, b) => a - b)).toEqual(TUBES);
          expect(new Set(pools.map((p) => p.name.toLowerCase())).size).toBe(pools.length);
          for (const pool of pools)
            if (pool.kind === "clean")
              expect(pool.fractions.every((n) => READ.fractions[n - 1].state !== "mixed")).toBe(true);
        }
      }),
    );
  });
});
