import { type Markup, markup } from "../markup.ts";
import { section } from "./context.ts";

/** Usual cautions (common practice, no source); local rules stand above them. */
const CAUTIONS: readonly (readonly [what: string, text: string])[] = [
  [
    "UV lamps",
    "burn eyes and skin, 254 nm most of all: work in a viewing box or behind a shield, with UV goggles and covered skin, and never look into the lamp.",
  ],
  [
    "Solvents",
    "stay in the fume hood, away from flames and hot plates; gloves that withstand them; ethers may hold peroxides, so test before you concentrate.",
  ],
  ["Pressurised glass", "bursts: undamaged glass only, a shield, a pressure relief, and clamped joints."],
  [
    "Silica and alumina dust",
    "harm the lungs: weigh, pour and empty in the hood or with a fitting mask, and let the bed dry there.",
  ],
  [
    "Stains and dips",
    "bite: permanganate oxidises, acid dips burn, and heating the plate gives off fumes. Gloves, goggles, hood.",
  ],
  [
    "Evaporation",
    "bumps and can end in peroxides: flask at most half full, bump guard, cold trap, and never to dryness with ethers.",
  ],
  [
    "Waste",
    "goes apart: halogenated and halogen-free solvents, used sorbent, stains and plates each to their own container.",
  ],
];

export function cautionsSection(): Markup {
  const items = CAUTIONS.map(([what, text]) => markup`<div><dt>${what}</dt><dd>${text}</dd></div>`);
  return section(
    "cautions",
    "Cautions",
    null,
    markup`<dl class="cautions">${items}</dl><p><b>One spot is never proof of purity</b>, and equal Rf is not proof of the same substance. These are the usual cautions only: the rules of your laboratory and a qualified supervisor come first.</p>`,
  );
}
