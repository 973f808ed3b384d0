/** The files that were dropped: those of a folder, without folders in it, or single ones. */
export async function dropped(transfer: DataTransfer): Promise<{ files: File[]; folder: string }> {
  // Asked for at once: the browser forgets what was dropped when the event is over.
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const single = [...transfer.files];
  const [folder] = entries.filter((entry): entry is FileSystemDirectoryEntry => entry.isDirectory);
  if (!folder) return { files: single, folder: '' };
  const files: File[] = [];
  for (const entry of await entriesOf(folder)) {
    if (entry.isFile) files.push(await fileOf(entry as FileSystemFileEntry));
  }
  return { files, folder: folder.name };
}

/** Files by where they lie in a folder, with / between folders. */
export interface Placed {
  file: File;
  path: string;
}

/** As `dropped`, with all that lies in folders of the folder. */
export async function droppedWhole(transfer: DataTransfer): Promise<{ files: Placed[]; folder: string }> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const single = [...transfer.files].map((file) => ({ file, path: file.name }));
  const [folder] = entries.filter((entry): entry is FileSystemDirectoryEntry => entry.isDirectory);
  return folder ? { files: await wholeOf(folder, ''), folder: folder.name } : { files: single, folder: '' };
}

async function wholeOf(folder: FileSystemDirectoryEntry, within: string): Promise<Placed[]> {
  const files: Placed[] = [];
  for (const entry of await entriesOf(folder)) {
    const path = `${within}${entry.name}`;
    if (entry.isFile) files.push({ file: await fileOf(entry as FileSystemFileEntry), path });
    else files.push(...(await wholeOf(entry as FileSystemDirectoryEntry, `${path}/`)));
  }
  return files;
}

async function entriesOf(folder: FileSystemDirectoryEntry): Promise<FileSystemEntry[]> {
  const reader = folder.createReader();
  const all: FileSystemEntry[] = [];
  // A reader gives some at a time, and none when it is done.
  for (;;) {
    const some = await new Promise<FileSystemEntry[]>((done, fail) => reader.readEntries(done, fail));
    if (some.length === 0) return all;
    all.push(...some);
  }
}

function fileOf(entry: FileSystemFileEntry): Promise<File> {
  return new Promise((done, fail) => entry.file(done, fail));
}
