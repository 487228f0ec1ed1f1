import { z } from "zod";
import { FRONT_SIDES, LIGHTS } from "../../model/index.ts";
import { benchShape, plateBenchShape } from "./bench.ts";
import { MAX_TUBE } from "./lanes.ts";

const asText = (value: unknown) => (typeof value === "number" ? String(value) : value);
const listOf = (value: unknown) =>
  typeof value === "string" ? value.split(",") : typeof value === "number" ? [value] : value;
const asPhoto = (value: unknown) => (typeof value === "string" ? { file: value } : value);
const lowerCase = (value: unknown) => (typeof value === "string" ? value.toLowerCase() : value);

/** A word; a bare number counts as one (`run: 7`). */
const word = z.preprocess(asText, z.string("must be a word or a number").min(1, "must not be empty"));

const up = z.preprocess(
  lowerCase,
  z
    .enum(FRONT_SIDES, `must be one of ${FRONT_SIDES.join(", ")}: where the solvent front points in the photo`)
    .nullish(),
);

const photo = z.preprocess(
  asPhoto,
  z.strictObject(
    {
      file: word,
      light: z.preprocess(lowerCase, z.enum(LIGHTS, `must be one of ${LIGHTS.join(", ")}`).nullish()),
      stain: word.nullish(),
      up,
    },
    "must be a photo, such as { file: p1-254.jpg, light: uv254 }",
  ),
);

const HEIGHT = "must be a number from 0 (top edge) to 1 (bottom edge)";
const height = z.number(HEIGHT).min(0, HEIGHT).max(1, HEIGHT);

const lane = z.custom<string | number>(
  (value) => typeof value === "string" || typeof value === "number",
  "must be a tube's number, a range such as 1-7, or a word such as crude",
);

const plate = z.strictObject(
  {
    photos: z
      .array(photo, "must be the list of this plate's photos, such as [p1-254.jpg]")
      .min(1, "must name at least one photo"),
    lanes: z.preprocess(listOf, z.array(lane, "must be a list from left to right, such as [crude, 1-7]").nullish()),
    origin: height.nullish(),
    front: height.nullish(),
    ...plateBenchShape,
  },
  "must be a plate with photos: and lanes:",
);

const fractions = z.strictObject(
  {
    count: z
      .int("must be a whole number of tubes")
      .min(1, "must be 1 or more")
      .max(MAX_TUBE, `must be ${MAX_TUBE} at most`)
      .nullish(),
    volume_ml: z.number("must be a number of millilitres, such as 10").positive("must be above 0").nullish(),
  },
  "must be written as { count: 24, volume_ml: 10 }",
);

/**
 * `run.yaml` as it is typed; every message says what must stand there.
 * A new section: its schema here, its noun in `RunFile`, its translation in `spellOut`.
 */
export const runSchema = z.strictObject(
  {
    run: word.nullish(),
    fractions: fractions.nullish(),
    plates: z.array(plate, "must be a list, each plate with a dash before it").min(1, "must list a plate").nullish(),
    up,
    ...benchShape,
  },
  "must hold keys such as run:, fractions: and plates:",
);

export type TypedRun = z.infer<typeof runSchema>;
