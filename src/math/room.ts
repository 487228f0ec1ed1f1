/** An array of numbers of one kind. */
interface Numbers<T> {
  readonly length: number;
  subarray(from: number, to: number): T;
}

/**
 * Room for numbers that one step needs while it works, kept for its next time: arrays made and dropped by the dozen cost as much as
 * what is done in them. It holds whatever was left there; nothing of it may be handed on beyond the next time.
 * @returns gives `length` values of the room
 */
function roomOf<T extends Numbers<T>>(make: (length: number) => T): (length: number) => T {
  let room = make(0);
  return (length) => {
    if (room.length < length) room = make(length);
    return room.length === length ? room : room.subarray(0, length);
  };
}

/** Room for numbers of single precision. */
export const singleRoom = () => roomOf<Float32Array>((length) => new Float32Array(length));
/** Room for numbers of double precision. */
export const doubleRoom = () => roomOf<Float64Array>((length) => new Float64Array(length));
/** Room for whole numbers. */
export const wholeRoom = () => roomOf<Int32Array>((length) => new Int32Array(length));
