/**
 * Compiles the vector code of src/math/simd/assembly.
 *   npx tsx tests/math/simd/compile.ts --write   puts it into src/math/simd/code.ts
 */
import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import asc from "assemblyscript/asc";

const SOURCE = "src/math/simd/assembly/index.ts";
const FLAGS = ["--enable", "simd", "--optimizeLevel", "3", "--runtime", "stub", "--noAssert", "--use", "abort="];

/** The compiled code in base64. */
export async function compiled(): Promise<string> {
  let binary = new Uint8Array(0);
  const { error, stderr } = await asc.main([SOURCE, "--outFile", "code.wasm", ...FLAGS], {
    writeFile: (_name, contents) => {
      if (typeof contents !== "string") binary = new Uint8Array(contents);
    },
  });
  if (error) throw new Error(`${error.message}\n${stderr.toString()}`);
  return Buffer.from(binary).toString("base64");
}

if (process.argv[1] === fileURLToPath(import.meta.url) && process.argv.includes("--write")) {
  const code = await compiled();
  const text = `/** ./assembly, compiled: npx tsx tests/math/simd/compile.ts --write */\nexport const CODE =\n  "${code}";\n`;
  writeFileSync("src/math/simd/code.ts", text);
}
