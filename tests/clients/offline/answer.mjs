// Answers for tests: each line of standard input is {module, call, args}, each line out {value} or {error}.
// An argument {"kept": name} stands for what a line {keep: name, value} brought before.
import { createInterface } from "node:readline";

const kept = new Map();
for await (const line of createInterface({ input: process.stdin })) {
  const asked = JSON.parse(line);
  if (asked.keep !== undefined) {
    kept.set(asked.keep, asked.value);
    continue;
  }
  try {
    const module = await import(asked.module);
    const args = asked.args.map((each) => (each?.kept === undefined ? each : kept.get(each.kept)));
    console.log(JSON.stringify({ value: module[asked.call](...args) }));
  } catch (error) {
    console.log(JSON.stringify({ error: { ...error, message: error.message } }));
  }
}
