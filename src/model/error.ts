/**
 * Impossible input: the message is one line fit for a user's eyes (no path beyond the file's own name, no stack),
 * says which file, what is wrong and what to do. `code` is stable and in kebab-case.
 */
export class PlatepoolError extends Error {
  readonly code: string;

  constructor(code: string, message: string) {
    super(message);
    this.name = "PlatepoolError";
    this.code = code;
  }
}
