import { stripY } from "./column.tsx";

/** The Rf scale beside a row of lanes. */
export function Scale({ height, width }: { readonly height: number; readonly width: number }) {
  return (
    <svg
      class="drawing scale"
      width={width}
      height={height}
      viewBox={`0 0 ${width} ${height}`}
      aria-hidden="true"
      focusable="false"
    >
      {[0, 0.2, 0.4, 0.6, 0.8, 1].map((rf) => (
        <g key={rf}>
          <text x={width - 8} y={stripY(rf, height) + 4} font-size="10.5" text-anchor="end" class="d-soft">
            {rf === 0 || rf === 1 ? String(rf) : rf.toFixed(1)}
          </text>
          <path d={`M${width - 5} ${stripY(rf, height)}h4`} class="d-axis" />
        </g>
      ))}
    </svg>
  );
}
