import type { GroupReading, PhotoGroup } from "./group.ts";
import type { ReadGroupOptions } from "./keepPlate.ts";
import { openGroup } from "./openGroup.ts";

/**
 * Reads the photos of one group: bytes in, plates with spots out. What cannot be read is rejected with its reason; the
 * rest goes on. The decoded pictures are dropped when it returns.
 * @param load gets a photo's bytes by its file name; may throw `PlatepoolError`
 */
export async function readGroup(
  group: PhotoGroup,
  load: (file: string) => Promise<Uint8Array>,
  options: ReadGroupOptions,
): Promise<GroupReading> {
  return (await openGroup(group, load, false)).read(group, options);
}
