import { runCommandLine } from './command-line.js';

const { exitCode, stdout, stderr } = await runCommandLine(process.argv.slice(2));
process.stdout.write(stdout);
process.stderr.write(stderr);
process.exitCode = exitCode;
