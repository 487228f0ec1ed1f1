export { boxColumns, boxRows } from "./boxes";
export { logarithms } from "./logarithm";
export { openRectangle } from "./opening";
export { select } from "./select";
export { sampleSpline } from "./spline";
