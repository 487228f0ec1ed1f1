#!/usr/bin/env node
import { program } from "./program.ts";
import { runProgram } from "./terminal/runProgram.ts";

await runProgram(program(), process.argv);
