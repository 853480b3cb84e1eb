// Hands a file to the person: to another app where the phone can, and else as a download.

/** True when it went, false when the person thought better of it. */
export async function share(file: File): Promise<boolean> {
  if (navigator.canShare?.({ files: [file] })) {
    try {
      await navigator.share({ files: [file] });
      return true;
    } catch (error) {
      if ((error as Error).name === 'AbortError') return false;
      // not allowed here: a download serves as well
    }
  }
  const link = document.createElement('a');
  link.href = URL.createObjectURL(file);
  link.download = file.name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // the download has begun by then
  return true;
}
