import type { Sketch } from "../../raster/shrink.ts";
import type { EdgeLine } from "./lines.ts";
import type { Candidate } from "./quads.ts";
import { evidenceOf, type SideEvidence, type SideStep, stepAt } from "./sides.ts";

/** The sides of candidates, each looked at when it is first asked for. */
export interface KnownSides {
  /** What is seen at side i (top, right, bottom, left) itself. */
  readonly step: (candidate: Candidate, i: number) => SideStep;
  /** All that is seen of it. */
  readonly evidence: (step: SideStep) => SideEvidence;
}

/** More than a picture has lines. */
const LINES = 1024;

/** Looks at sides once, however many candidates share them: most do, for four of a few lines make many. */
export function knownSides(sketch: Sketch): KnownSides {
  const numbers = new Map<EdgeLine, number>();
  const steps = new Map<number, SideStep>();
  const known = new Map<SideStep, SideEvidence>();
  const numberOf = (line: EdgeLine) => numbers.get(line) ?? numbered(numbers, line);
  const step = ({ quad, sides }: Candidate, i: number) => {
    // Three lines make a side: its own, and the two that it ends on.
    const [before, after] = [sides[(i + 3) & 3], sides[(i + 1) & 3]];
    const key = (numberOf(before) * LINES + numberOf(sides[i])) * LINES + numberOf(after);
    const found = steps.get(key) ?? stepAt(sketch, quad[i], quad[(i + 1) & 3]);
    steps.set(key, found);
    return found;
  };
  const evidence = (side: SideStep) => {
    const found = known.get(side) ?? evidenceOf(sketch, side);
    known.set(side, found);
    return found;
  };
  return { step, evidence };
}

function numbered(numbers: Map<EdgeLine, number>, line: EdgeLine): number {
  numbers.set(line, numbers.size);
  return numbers.size - 1;
}
