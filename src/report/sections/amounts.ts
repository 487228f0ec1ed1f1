import { profileSvg, totalShares } from "../drawing/profile.ts";
import { type Markup, markup } from "../markup.ts";
import { percent } from "../words.ts";
import { type Context, fitted, section } from "./context.ts";

/** Amount of each component over the tubes. */
export function amountsSection({ result, palette }: Context): Markup {
  const profiles = result.components
    .filter((c) => c.first !== null)
    .flatMap((c) => result.profiles.filter((p) => p.component === c.id));
  if (profiles.length === 0) return markup``;
  const shares = totalShares(profiles);
  const label = `Amount of each component over the tubes. ${profiles
    .map((p) => {
      const top = p.points.reduce((a, b) => (b.amount > a.amount ? b : a), p.points[0]);
      return `${p.component}: ${percent(shares.get(p.component) ?? 0)} of all that the plates show, most in tube ${top?.fraction ?? "–"}.`;
    })
    .join(" ")}`;
  return section(
    "amounts",
    "Amount of each component over the tubes",
    "Each row is scaled to its own highest point; the percentage is its share of everything the plates show. Dots are what the lanes say, the grey band holds the amount with 90 % probability. Equal spots need not be equal amounts: each substance answers the light in its own way.",
    fitted((width, name) =>
      profileSvg({
        profiles,
        components: result.components,
        tubes: result.fractions,
        pools: result.pools,
        palette,
        width,
        fontSize: name === "slim" ? 11 : 12,
        label,
      }),
    ),
  );
}
