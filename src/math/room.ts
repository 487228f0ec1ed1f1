/**
 * Room for numbers that one step needs while it works, kept for its next time: small arrays made and dropped by the hundred cost as
 * much as what is done in them. It holds whatever was left there; nothing of it may be handed on.
 * @returns gives `length` values of the room
 */
export function doubleRoom(): (length: number) => Float64Array {
  let room = new Float64Array(0);
  return (length) => {
    if (room.length < length) room = new Float64Array(length);
    return room.length === length ? room : room.subarray(0, length);
  };
}

/** The same for whole numbers. */
export function wholeRoom(): (length: number) => Int32Array {
  let room = new Int32Array(0);
  return (length) => {
    if (room.length < length) room = new Int32Array(length);
    return room.length === length ? room : room.subarray(0, length);
  };
}
