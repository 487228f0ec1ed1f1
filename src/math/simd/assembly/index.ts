export { averageValues } from "./blocks";
export { boxColumns, boxRows } from "./boxes";
export { logarithms } from "./logarithm";
export { addNormals } from "./normals";
export { openRectangle } from "./opening";
export { averageBlocks, sampleBlocks } from "./patch";
export { lessQuadric } from "./quadric";
export { selectNth } from "./select";
export { sampleSpline } from "./spline";
