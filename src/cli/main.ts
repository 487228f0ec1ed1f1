#!/usr/bin/env node
import { program } from "./program.ts";
import { runProgram } from "./terminal/runProgram.ts";
import { layOutEngine } from "./workers/engine.ts";

layOutEngine();
await runProgram(program(), process.argv);
