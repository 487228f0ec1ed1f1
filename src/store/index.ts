export { appendBench, BENCH_FILE, type ReadBench, readBench } from "./benchBook.ts";
export { isDemoFolder, openDemoFolder } from "./demoFolder.ts";
export { type ArchiveFile, sha256, zipFiles } from "./elnArchive.ts";
export { type FoundPhotos, findPhotos, type PhotoFile } from "./folder.ts";
export {
  type ActDraft,
  digestOf,
  type KeptAct,
  keepAct,
  parseAct,
  type ReadJournal,
  readJournal,
} from "./journal.ts";
export { JOURNAL_FILE, TORN_FILE } from "./journalText.ts";
export { naturalOrder } from "./naturalOrder.ts";
export { readPhotoBytes } from "./photoBytes.ts";
export { annotatedNames, openResults, type ResultsWriter } from "./results.ts";
export { openRunFolder, RunFileError, type RunFolder } from "./runFolder.ts";
export { type ParsedRunFile, parseRunFile } from "./runfile/index.ts";
export { lastSettings, replaceStoredResult, type StoredResult, storedResult } from "./storedResult.ts";
