// Hands files to the person: to another app where the phone can, and else as a download; several
// then as one zip file.

/** True when they went, false when the person thought better of it. */
export async function share(files: File[], zipName = 'papers.zip'): Promise<boolean> {
  if (navigator.canShare?.({ files })) {
    try {
      await navigator.share({ files });
      return true;
    } catch (error) {
      if ((error as Error).name === 'AbortError') return false;
      // not allowed here: a download serves as well
    }
  }
  const file = files.length === 1 ? files[0]! : await zipped(files, zipName);
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the download has begun by then
  return true;
}

async function zipped(files: File[], name: string): Promise<File> {
  const { zipSync } = await import('../data/zip'); // not before it is needed
  const entries = await Promise.all(files.map(async (file) => [file.name, new Uint8Array(await file.arrayBuffer())] as const));
  return new File([zipSync(Object.fromEntries(entries), { level: 0 }) as Uint8Array<ArrayBuffer>], name, { type: 'application/zip' });
}
