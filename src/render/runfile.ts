import type { LaneRecipe, RunRecipe } from "./recipe.ts";

/** Labels left to right, runs of tubes folded into ranges. */
function laneList(lanes: readonly LaneRecipe[]): string {
  const parts: string[] = [];
  for (let i = 0; i < lanes.length; ) {
    let end = i;
    while (
      end + 1 < lanes.length &&
      lanes[end].fraction !== null &&
      lanes[end + 1].fraction === lanes[end].fraction! + 1
    )
      end++;
    parts.push(end > i + 1 ? `${lanes[i].label}-${lanes[end].label}` : lanes[i].label);
    i = end > i + 1 ? end + 1 : i + 1;
  }
  return `[${parts.join(", ")}]`;
}

/** The run file (`run.yaml`) that belongs to a rendered run. */
export function runYaml(recipe: RunRecipe): string {
  const lines = [
    `run: ${recipe.name}`,
    `fractions: { count: ${recipe.tubes}, volume_ml: ${recipe.volumeMl} }`,
    "plates:",
  ];
  recipe.plates.forEach((plate, index) => {
    lines.push("  - photos:");
    for (const photo of recipe.photos.filter((p) => p.plates.some((placed) => placed.plate === index))) {
      const stain = photo.stain ? `, stain: ${photo.stain}` : "";
      lines.push(`      - { file: ${photo.file}, light: ${photo.light}${stain} }`);
    }
    lines.push(`    lanes: ${laneList(plate.lanes)}`);
  });
  return `${lines.join("\n")}\n`;
}
