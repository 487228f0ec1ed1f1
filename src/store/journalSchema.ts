import { z } from "zod";
import { DIVISION_DEEDS, type JournalLine } from "../model/index.ts";

const number = z.number();
const text = z.string();
const id = z.number().int().nonnegative();
const tube = z.number().int().positive();

const pool = z.object({
  name: text,
  fractions: z.array(tube),
  kind: z.enum(["clean", "mixed", "empty"]),
  holds: z.array(z.object({ component: text, rf: number })),
  accepted: z.boolean(),
});

const plate = z.object({ photos: z.array(text).min(1), place: z.number().int().nonnegative() });
const lane = z.object({ x: number, label: text, fraction: tube.nullable() });
const spot = z.object({ lane: number, rf: number, y: number });
const point = z.tuple([number, number]);

const mending = z.discriminatedUnion("what", [
  z.object({
    what: z.literal("corners"),
    plate,
    photo: text,
    corners: z.tuple([point, point, point, point]),
  }),
  z.object({ what: z.enum(["origin", "front"]), plate, y: number }),
  z.object({ what: z.literal("lanes"), plate, done: z.enum(["add", "move", "strike"]), lanes: z.array(lane) }),
  z.object({ what: z.literal("lane-name"), plate, lane }),
  z.object({ what: z.literal("spot-add"), plate, spot }),
  z.object({ what: z.literal("spot-move"), plate, spot, to: spot }),
  z.object({ what: z.literal("spot-strike"), plate, spot }),
  z.object({ what: z.literal("components-merge"), rf: z.tuple([number, number]) }),
  z.object({ what: z.literal("component-split"), rf: number, at: number }),
]);

const entry = z.object({
  from: tube,
  to: tube,
  volumeMl: number.nullable().optional(),
  eluent: text.nullable().optional(),
  flask: text.nullable().optional(),
  note: text.nullable().optional(),
});

/** An act as it comes from outside: a file, or a browser. */
export const actSchema = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("divide"), done: z.enum(DIVISION_DEEDS), pools: z.array(pool) }),
  z.object({ kind: z.literal("mend"), mending }),
  z.object({ kind: z.literal("log"), entry }),
  z.object({ kind: z.literal("undo"), of: id }),
  z.object({ kind: z.literal("redo"), of: id }),
  z.object({ kind: z.literal("return"), to: id }),
]);

/** A line of the journal after the first. */
export const journalLineSchema: z.ZodType<JournalLine> = z.object({
  id: id.min(1),
  at: text,
  on: text.nullable(),
  act: actSchema,
});
