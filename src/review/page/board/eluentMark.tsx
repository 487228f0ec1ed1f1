import type { Column } from "./arrange.ts";

export interface EluentMarkProps {
  /** The first tube that another eluent ran into. */
  readonly column: Column;
  readonly eluent: string;
  /** Where the next mark, or the row's end, leaves no more room for words. */
  readonly until: number;
}

/** A line before a tube from which on another eluent ran, and which one, as the tube log says. */
export function EluentMark({ column, eluent, until }: EluentMarkProps) {
  return (
    <span class="eluent" style={{ left: `${column.x}px` }}>
      <span class="eluentname" style={{ maxWidth: `${until - column.x - 4}px` }} title={eluent}>
        <span class="unseen">From tube {column.label} on: </span>
        {eluent}
      </span>
    </span>
  );
}
