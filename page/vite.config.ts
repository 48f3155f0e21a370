// One HTML file with everything inside: script, style, and the compressed engine as letters.
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { gzipSync } from "node:zlib";
import { defineConfig, type Plugin } from "vite";
import { viteSingleFile } from "vite-plugin-singlefile";
import { packed } from "./src/packed.js";

const engine = process.env.STEPOFF_WASM;

/** The engine as a block of data in the page, and a policy that lets nothing in and nothing out. */
function sealed(): Plugin {
  return {
    name: "sealed",
    enforce: "post",
    generateBundle: { order: "post", handler(_, bundle) {
      if (!engine) throw new Error("STEPOFF_WASM names no file: run page/build.sh");
      const letters = packed(gzipSync(readFileSync(engine), { level: 9 }));
      for (const file of Object.values(bundle)) {
        if (file.type !== "asset" || !file.fileName.endsWith(".html")) continue;
        let html = String(file.source);
        const hashes = [...html.matchAll(/<script[^>]*type="module"[^>]*>([\s\S]*?)<\/script>/g)].map(
          (script) => `'sha256-${createHash("sha256").update(script[1]!).digest("base64")}'`,
        );
        if (hashes.length !== 1) throw new Error(`one script was expected, found ${hashes.length}`);
        const policy = [
          "default-src 'none'",
          `script-src ${hashes.join(" ")} 'wasm-unsafe-eval'`,
          "worker-src blob:",
          "style-src 'unsafe-inline'",
          "font-src data:",
          "img-src data: blob:",
          "base-uri 'none'",
          "form-action 'none'",
        ].join("; ");
        html = html
          .replace("<!--policy-->", () => `<meta http-equiv="Content-Security-Policy" content="${policy}">`)
          .replace("<!--engine-->", () => `<script type="application/octet-stream" id="engine">${letters}</script>`);
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
