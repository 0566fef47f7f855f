// The built server as a process of its own: DATA_DIR. Says its address on stdout.
import { startServer } from '../../dist/index.js';

const { address } = await startServer({ dataDir: process.argv[2], port: 0, pageDir: process.argv[2] });
process.stdout.write(`${address}\n`);
