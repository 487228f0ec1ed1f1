import type { PlateKey, Result, ResultPlate } from "../model/index.ts";

/** What of a plate its key is compared by. */
export interface PlacedPlate {
  readonly photos: readonly string[];
  readonly place: number;
}

/** True where both name one physical plate: a photo in common, and the same place in it. */
export function isPlate(key: PlateKey, plate: PlacedPlate): boolean {
  return key.place === plate.place && key.photos.some((file) => plate.photos.includes(file));
}

/** The key of a plate of a reading. */
export function plateKeyOf(result: Result, plate: ResultPlate): PlateKey {
  const first = result.photos.find((p) => p.file === plate.photos[0]);
  return { photos: plate.photos, place: Math.max(0, first?.plates.indexOf(plate.id) ?? 0) };
}

/** The plate of a reading that a key names, or null where it is not there. */
export function findPlate(result: Result, key: PlateKey): ResultPlate | null {
  return result.plates.find((plate) => isPlate(key, plateKeyOf(result, plate))) ?? null;
}
