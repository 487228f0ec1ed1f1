import { expect, it } from "vitest";
import type { Act } from "../../../src/model/index.ts";
import type { ActAnswer, ActRequest, PageState } from "../../../src/review/api.ts";
import { type Keeping, keeper } from "../../../src/review/page/state/keeper.ts";

const undo = (of: number): Act => ({ kind: "undo", of });

/** A server in the hand: each request waits until the test answers it. */
function bench() {
  let now: Pick<PageState, "last" | "undo" | "redo"> = { last: 0, undo: null, redo: null };
  const asked: { request: ActRequest; answer: (a: ActAnswer) => void; fail: (e: Error) => void }[] = [];
  const seen: Keeping[] = [];
  const keep = keeper({
    now: () => now,
    post: (request) => new Promise((answer, fail) => asked.push({ request, answer, fail })),
    onState: (state) => {
      now = state;
    },
    onChange: (keeping) => seen.push(keeping),
  });
  const state = (id: number) => ({ last: id, undo: id, redo: null }) as PageState;
  const saved = (id: number): ActAnswer => ({ saved: { id, at: "", on: null, act: undo(id) }, state: state(id) });
  const rest = () => new Promise((resolve) => setTimeout(resolve));
  return { keep, asked, seen, saved, state, rest };
}

it("an act counts as saved only when the server has said so", async () => {
  const { keep, asked, saved, rest } = bench();
  keep.keep(undo(1));
  expect(keep.keeping.waiting).toHaveLength(1);
  await rest();
  expect(keep.keeping.waiting).toHaveLength(1);
  asked[0].answer(saved(1));
  await rest();
  expect(keep.keeping).toEqual({ waiting: [], trouble: null, refused: null });
});

it("acts go one after the other, each decided on what the one before left", async () => {
  const { keep, asked, saved, rest } = bench();
  keep.keep(undo(1));
  keep.keep(undo(2));
  expect(asked).toHaveLength(1);
  asked[0].answer(saved(7));
  await rest();
  expect(asked.map((a) => a.request.last)).toEqual([0, 7]);
  asked[1].answer(saved(8));
  await rest();
  expect(keep.keeping.waiting).toEqual([]);
});

it("what is still being saved can be taken back: the wish waits, and means the act that was saved by then", async () => {
  const { keep, asked, saved, rest } = bench();
  keep.keep({ kind: "return", to: 0 });
  keep.keep({ kind: "undo", of: null });
  asked[0].answer(saved(4));
  await rest();
  expect(asked[1].request).toEqual({ last: 4, act: { kind: "undo", of: 4 } });
  asked[1].answer(saved(5));
  await rest();
  keep.keep({ kind: "redo", of: null });
  await rest();
  expect(asked).toHaveLength(2);
  expect(keep.keeping.waiting).toEqual([]);
});

it("where no answer comes nothing is lost: it waits, what follows waits behind it, and both go when tried again", async () => {
  const { keep, asked, saved, rest } = bench();
  keep.keep(undo(1));
  asked[0].fail(new Error("no answer"));
  await rest();
  keep.keep(undo(2));
  await rest();
  expect(asked).toHaveLength(1);
  expect(keep.keeping).toMatchObject({ waiting: [undo(1), undo(2)], trouble: "no answer" });
  keep.retry();
  asked[1].answer(saved(1));
  await rest();
  asked[2].answer(saved(2));
  await rest();
  expect(asked.map((a) => a.request.act)).toEqual([undo(1), undo(1), undo(2)]);
  expect(keep.keeping).toMatchObject({ waiting: [], trouble: null });
});

it("a refusal is told, and what was built on the refused act is dropped with it", async () => {
  const { keep, asked, state, rest } = bench();
  keep.keep(undo(1));
  keep.keep(undo(2));
  asked[0].answer({ refused: "something else was decided", code: "decision-overtaken", state: state(5) });
  await rest();
  expect(asked).toHaveLength(1);
  expect(keep.keeping).toMatchObject({ waiting: [], refused: "something else was decided" });
  keep.forgive();
  expect(keep.keeping.refused).toBeNull();
});
