// One HTML file with everything inside: script, style, and the engine and the model's code, compressed, as letters.
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import * as zstd from "@bokuweb/zstd-wasm";
import { build, defineConfig, type Plugin } from "vite";
import { viteSingleFile } from "vite-plugin-singlefile";
import { packed } from "./src/packed.js";

const engine = process.env.STEPOFF_WASM;

/** The model's code as one script, which the page runs when the model is first opened. */
async function model(): Promise<string> {
  const built = await build({
    configFile: false,
    logLevel: "warn",
    esbuild: { legalComments: "none" },
    build: { target: "es2022", write: false, lib: { entry: "src/model/scene.ts", formats: ["iife"], name: "stepoffModel" } },
  });
  const [result] = [built].flat();
  if (!result || !("output" in result)) throw new Error("the model's code was not built");
  return result.output[0].code;
}

/** zstd's highest level. It takes ten seconds, so the result is kept for the next build from the same bytes. */
async function small(data: Uint8Array): Promise<Uint8Array> {
  const level = 22;
  const kept = `../target/page/${createHash("sha256").update(`${level}:`).update(data).digest("hex")}.zst`;
  if (!existsSync(kept)) {
    mkdirSync("../target/page", { recursive: true });
    await zstd.init();
    writeFileSync(kept, zstd.compress(data, level));
  }
  return readFileSync(kept);
}

/** A block of data in the page. */
async function block(id: string, data: Uint8Array): Promise<string> {
  return `<script type="application/octet-stream" id="${id}">${packed(await small(data))}</script>`;
}

const hash = (text: string) => `'sha256-${createHash("sha256").update(text).digest("base64")}'`;

/** The engine without its custom sections (notes of other tools for themselves), which no browser reads. */
function bare(wasm: Buffer): Buffer {
  const parts = [wasm.subarray(0, 8)];
  for (let at = 8; at < wasm.length; ) {
    const start = at;
    const custom = wasm[at++] === 0;
    let length = 0;
    for (let shift = 0, more = true; more; shift += 7) {
      const byte = wasm[at++]!;
      length |= (byte & 127) << shift;
      more = byte > 127;
    }
    at += length;
    if (!custom) parts.push(wasm.subarray(start, at));
  }
  return Buffer.concat(parts);
}

/** The engine as a block of data in the page, and a policy that lets nothing in and nothing out. */
function sealed(): Plugin {
  return {
    name: "sealed",
    enforce: "post",
    generateBundle: { order: "post", async handler(_, bundle) {
      if (!engine) throw new Error("STEPOFF_WASM names no file: run page/build.sh");
      const drawing = await model();
      const blocks = [await block("engine", bare(readFileSync(engine))), await block("model", Buffer.from(drawing))];
      for (const file of Object.values(bundle)) {
        if (file.type !== "asset" || !file.fileName.endsWith(".html")) continue;
        let html = String(file.source);
        const hashes = [...html.matchAll(/<script[^>]*type="module"[^>]*>([\s\S]*?)<\/script>/g)].map(
          (script) => hash(script[1]!),
        );
        if (hashes.length !== 1) throw new Error(`one script was expected, found ${hashes.length}`);
        const policy = [
          "default-src 'none'",
          `script-src ${hashes.join(" ")} ${hash(drawing)} 'wasm-unsafe-eval'`,
          "worker-src blob:",
          // the zstd decoder reads its own code, which the script holds, in this way
          "connect-src data:",
          "style-src 'unsafe-inline'",
          "font-src data:",
          "img-src data: blob:",
          "base-uri 'none'",
          "form-action 'none'",
        ].join("; ");
        html = html
          .replace("<!--policy-->", () => `<meta http-equiv="Content-Security-Policy" content="${policy}">`)
          .replace("<!--engine-->", () => blocks.join("\n"));
        file.source = html;
      }
    } },
  };
}

export default defineConfig({
  base: "./",
  esbuild: { jsx: "automatic", jsxImportSource: "preact", legalComments: "none" },
  build: {
    target: "es2022",
    assetsInlineLimit: 10_000_000,
    modulePreload: false,
    outDir: "../target/page/dist",
    emptyOutDir: true,
    reportCompressedSize: false,
  },
  plugins: [viteSingleFile({ removeViteModuleLoader: true }), sealed()],
});
