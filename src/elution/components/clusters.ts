/** Centres that one-dimensional clusters of spots suggest, nearer than `gap` counting as one. */
export function clusters(rfs: readonly number[], gap: number): number[] {
  const sorted = [...rfs].sort((a, b) => b - a);
  const out: number[] = [];
  let members: number[] = [];
  for (const rf of sorted) {
    if (members.length > 0 && members[0] - rf > gap) {
      out.push(members.reduce((s, v) => s + v, 0) / members.length);
      members = [];
    }
    members.push(rf);
  }
  if (members.length > 0) out.push(members.reduce((s, v) => s + v, 0) / members.length);
  return out;
}
