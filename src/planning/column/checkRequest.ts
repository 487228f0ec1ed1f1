import type { ColumnRequest, RackLayout } from "../../model/index.ts";
import { PlatepoolError } from "../../model/index.ts";
import { checkRf } from "../retention/index.ts";

const refuse = (code: string, message: string): never => {
  throw new PlatepoolError(code, message);
};

function checkPositive(value: number | null, what: string, unit: string, most: number): void {
  if (value === null) return;
  if (!Number.isFinite(value) || value <= 0)
    refuse("quantity-not-positive", `${what} is ${value} ${unit}; it must be above 0. Give it again.`);
  if (value > most)
    refuse("quantity-too-large", `${what} is ${value} ${unit}, more than ${most} ${unit}. Are the units right?`);
}

/** Throws `rack-impossible` unless rows and columns are whole numbers of 1 to 50. */
export function checkRack(rack: RackLayout): void {
  for (const [what, value] of [
    ["rows", rack.rows],
    ["columns", rack.columns],
  ] as const)
    if (!Number.isInteger(value) || value < 1 || value > 50)
      refuse("rack-impossible", `a rack of ${value} ${what} cannot be; give a whole number from 1 to 50.`);
}

/**
 * Throws one coded error for the first thing that cannot be: no component, an Rf outside 0..1, masses, volumes and
 * lengths that are not positive or absurd, steps out of order or without the Rf of a component.
 */
export function checkRequest(request: ColumnRequest): void {
  const { steps } = request;
  if (!Number.isFinite(request.loadMg) || request.loadMg <= 0)
    refuse(
      "mass-not-positive",
      `the mass to load is ${request.loadMg} mg; it must be above 0. Give it again, with its unit.`,
    );
  if (request.loadMg > 500_000)
    refuse(
      "mass-too-large",
      `the mass to load is ${request.loadMg / 1000} g, more than a hand column carries. Is the unit right (mg, g)?`,
    );
  if (steps.length === 0)
    refuse("no-eluent", "the plan has no eluent; give at least one with the Rf of each component.");
  const ids = Object.keys(steps[0].rf);
  if (ids.length === 0) refuse("no-rf", "the plan has no Rf; give at least one, for instance --rf A=0.42,B=0.30.");
  steps.forEach((step, i) => {
    const name = step.eluent ?? `step ${i + 1}`;
    for (const id of Object.keys(step.rf)) {
      checkRf(step.rf[id], `${id} in ${name}`);
      if (!ids.includes(id))
        refuse("rf-missing", `${id} has an Rf in ${name} but none in the first eluent. Give it there too.`);
    }
    for (const id of ids)
      if (step.rf[id] === undefined)
        refuse("rf-missing", `${id} has no Rf in ${name}. Give one, or leave the step out.`);
    if (!Number.isFinite(step.fromMl) || step.fromMl < 0)
      refuse("step-volume", `the change to ${name} stands at ${step.fromMl} mL; give the mL poured before it.`);
    if (i === 0 ? step.fromMl !== 0 : step.fromMl <= steps[i - 1].fromMl)
      refuse(
        "step-order",
        `the change to ${name} stands at ${step.fromMl} mL; the first starts at 0 and each next one later than the last.`,
      );
  });
  if (request.want !== null && !ids.includes(request.want))
    refuse("wanted-unknown", `"${request.want}" is wanted, but the plan knows ${ids.join(", ")} only.`);
  checkPositive(request.diameterMm, "the inner diameter", "mm", 500);
  checkPositive(request.bedCm, "the bed height", "cm", 200);
  checkPositive(request.fractionMl, "the fraction", "mL", 5000);
  checkPositive(request.holdUpMl, "the hold-up volume", "mL", 50_000);
  if (!Number.isFinite(request.forerunMl) || request.forerunMl < 0)
    refuse("forerun-negative", `the forerun is ${request.forerunMl} mL; give 0 or more.`);
  for (const amount of Object.values(request.amounts))
    if (!Number.isFinite(amount) || amount < 0)
      refuse("amount-negative", `a relative amount is ${amount}; give 0 or more.`);
  if (request.rack) checkRack(request.rack);
}
