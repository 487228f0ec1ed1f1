import type { Result } from "../../../src/model/index.ts";
import type { ReportInput } from "../../../src/report/index.ts";
import type { ReadingProgress } from "../../../src/review/api.ts";
import type { Reader } from "../../../src/review/server/index.ts";
import type { ShownReading } from "../../../src/review/server/reader.ts";
import type { PhotoFile } from "../../../src/store/index.ts";

/** A reader that has read a sample already, and can be told that something changed. */
export interface SampleReader extends Reader {
  read(reading: ShownReading): void;
  /** A part of the photos has been read for the first time. */
  readPart(part: ShownReading | null, files: readonly string[]): void;
  say(progress: Partial<ReadingProgress>): void;
  /** Another process kept something. */
  hear(): void;
}

const IDLE: ReadingProgress = { busy: false, done: 0, of: 0, arriving: [], fault: null };

export function sampleReader(first: ShownReading | null): SampleReader {
  let reading = first;
  let progress = IDLE;
  let soFar: ShownReading | null = null;
  let photos: readonly PhotoFile[] = [];
  const listeners = new Set<Parameters<Reader["onChange"]>[0]>();
  const tell: Parameters<Reader["onChange"]>[0] = (what) => {
    for (const listener of listeners) listener(what);
  };
  return {
    get reading() {
      return reading;
    },
    get soFar() {
      return soFar;
    },
    get photos() {
      return photos;
    },
    tubeLog: { usualMl: 10, notes: [] },
    get progress() {
      return progress;
    },
    follow: async () => undefined,
    readAhead: async () => undefined,
    expectMending: () => undefined,
    onChange: (listener) => void listeners.add(listener),
    read(next) {
      reading = next;
      soFar = null;
      tell("reading");
    },
    readPart(part, files) {
      soFar = part;
      photos = files.map((file) => ({ file, path: file }));
      tell("progress");
    },
    say(next) {
      progress = { ...progress, ...next };
      tell("progress");
    },
    hear: () => tell("journal"),
  };
}

/** What the report's sample shows, in the shape that a reading has. */
export function readingOf({ straightened, photos }: ReportInput, result: Result): ShownReading {
  const bytes = (base64: string) => new Uint8Array(Buffer.from(base64, "base64"));
  return {
    result,
    straightened: straightened.map(({ plate, photo, light, stain, width, height, jpegBase64 }) => ({
      ...{ plate, file: photo, light, stain: stain ?? null, width, height },
      bytes: bytes(jpegBase64),
    })),
    photos: photos.map(({ file, width, height, jpegBase64 }) => ({ file, width, height, bytes: bytes(jpegBase64) })),
  };
}
