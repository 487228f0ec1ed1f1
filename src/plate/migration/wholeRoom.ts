/**
 * As `workingRoom`, for whole numbers: room that one step needs while it works, kept for its next time. It holds whatever was left there.
 * @returns gives `length` values of the room
 */
export function wholeRoom(): (length: number) => Int32Array {
  let room = new Int32Array(0);
  return (length) => {
    if (room.length < length) room = new Int32Array(length);
    return room.length === length ? room : room.subarray(0, length);
  };
}
