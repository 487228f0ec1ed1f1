import { killWriters } from "../store/support/killWriters.ts";

// npx tsx tests/bench/kill.ts [kills] [seed]: the journal and the results under SIGKILL.
const [kills = 200, seed = 1] = process.argv.slice(2).map(Number);
const { reported, kept, faults } = await killWriters({ kills, writers: 3, seed });
for (const fault of faults) console.log(fault);
console.log(
  `${kills} writers killed, 3 at once: ${reported} acts reported kept, ${kept} in the journal, ${faults.length} faults`,
);
process.exitCode = faults.length > 0 ? 1 : 0;
