// Files and texts that leave the page: saved, shared or copied.

export function save(name: string, bytes: Uint8Array<ArrayBuffer>): void {
  const url = URL.createObjectURL(new Blob([bytes], { type: "application/octet-stream" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
}

export function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  return new TextEncoder().encode(text) as Uint8Array<ArrayBuffer>;
}

export function ofBase64(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}

/** Hands a text to another program of the phone, else copies it, else saves it; the answer says which. */
export async function share(title: string, text: string, name: string): Promise<"shared" | "copied" | "saved" | "stopped"> {
  if (typeof navigator.share === "function") {
    try {
      await navigator.share({ title, text });
      return "shared";
    } catch (error) {
      if (error instanceof DOMException && error.name === "AbortError") return "stopped";
    }
  }
  try {
    await navigator.clipboard.writeText(text);
    return "copied";
  } catch {
    save(name, bytesOf(text));
    return "saved";
  }
}
