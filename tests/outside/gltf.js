// Every .glb named: the reader of the format's own keepers finds nothing to say.
const fs = require("fs");
const path = require("path");
const validator = require(path.resolve("target/outside/node_modules/gltf-validator"));

async function main() {
  let bad = false;
  for (const file of process.argv.slice(2)) {
    const { issues, info } = await validator.validateBytes(new Uint8Array(fs.readFileSync(file)));
    const count = issues.numErrors + issues.numWarnings + issues.numInfos + issues.numHints;
    console.log(`${file}: ${count} issues, ${info.drawCallCount} meshes, ${info.totalTriangleCount} triangles`);
    if (count > 0 || info.totalTriangleCount === 0) {
      console.log(JSON.stringify(issues.messages, null, 1));
      bad = true;
    }
  }
  process.exit(bad ? 1 : 0);
}

main();
