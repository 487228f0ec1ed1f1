/**
 * Solvents of normal-phase chromatography from weak to strong on silica, each with its other names. Only the order is
 * used, and only until the plates themselves show which of two solvents moves the spots.
 * Order of the eluotropic series, from memory.
 */
const SERIES: readonly (readonly [name: string, ...also: string[]])[] = [
  ["pentane", "n-pentane"],
  ["petroleum ether", "petrol ether", "petrol", "light petroleum", "pet ether"],
  ["hexane", "hexanes", "n-hexane"],
  ["heptane", "n-heptane"],
  ["cyclohexane"],
  ["toluene"],
  ["chloroform", "chcl3"],
  ["dichloromethane", "dcm", "methylene chloride", "ch2cl2"],
  ["diethyl ether", "ether", "et2o"],
  ["tert-butyl methyl ether", "methyl tert-butyl ether", "mtbe", "tbme"],
  ["ethyl acetate", "etoac", "acoet", "ea"],
  ["tetrahydrofuran", "thf"],
  ["1,4-dioxane", "dioxane"],
  ["acetone"],
  ["acetonitrile", "mecn"],
  ["2-propanol", "isopropanol", "propan-2-ol", "ipa"],
  ["ethanol", "etoh"],
  ["methanol", "meoh"],
  ["water", "h2o"],
  ["acetic acid", "acoh"],
];

const RANK = new Map(SERIES.flatMap((names, rank) => names.map((name) => [name, rank] as const)));

/** Full name of a solvent known by several ("EtOAc" is "ethyl acetate"); unknown ones come back in lower case. */
export function solventName(typed: string): string {
  const plain = typed.trim().toLowerCase().replace(/\s+/g, " ");
  const rank = RANK.get(plain);
  return rank === undefined ? plain : SERIES[rank][0];
}

/** Place in the series, weak to strong, or null where the solvent is not in it. */
export function solventStrength(name: string): number | null {
  return RANK.get(name) ?? null;
}
