/** Where a finding points; every field is optional because some findings concern the whole run. */
export interface FindingPlace {
  readonly photo?: string;
  readonly plate?: string;
  readonly lane?: number;
  readonly fraction?: number;
}

/**
 * Doubtful evidence, as data: a stable code, one plain sentence, and what to do about it.
 * Never thrown; impossible input is (see `PlatepoolError`).
 */
export interface Finding {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  readonly where: FindingPlace;
}

/** What every stage returns: its value and the doubts it met on the way. */
export interface StageResult<T> {
  readonly value: T;
  readonly findings: readonly Finding[];
}
