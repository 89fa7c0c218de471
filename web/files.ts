/** Files on their way between this machine and Bowlside: read as text, saved, and a picture made of points out of one made of lines. */

/** The file's text, whichever way the program that wrote it meant: UTF-8, UTF-16 with its mark, else the old western one. */
export async function textOf(file: Blob): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const mark = bytes.length >= 2 ? (bytes[0]! << 8) | bytes[1]! : 0;
  if (mark === 0xfffe) return new TextDecoder('utf-16le').decode(bytes);
  if (mark === 0xfeff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

/** As the browser saves what it downloads. */
export function save(content: Blob, name: string): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(content);
  link.download = name;
  link.click();
  // Not at once: the browser may not have begun to read it.
  window.setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

/** How much finer than its own units the picture is drawn (ours: sharp on paper and on any screen). */
const FINENESS = 2;

/** The picture as PNG; null where this browser cannot draw it. */
export async function pngOf(svg: string): Promise<Blob | null> {
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  try {
    await image.decode();
  } catch {
    return null;
  }
  const canvas = document.createElement('canvas');
  canvas.width = image.naturalWidth * FINENESS;
  canvas.height = image.naturalHeight * FINENESS;
  canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/png'));
}
