/**
 * Room that one step needs while it works, kept for its next time: planes made and dropped by the dozen cost as much as
 * what is done in them. It holds whatever was left there; nothing of it may be handed on.
 * @returns gives `length` values of the room
 */
export function workingRoom(): (length: number) => Float32Array {
  let room = new Float32Array(0);
  return (length) => {
    if (room.length < length) room = new Float32Array(length);
    return room.length === length ? room : room.subarray(0, length);
  };
}
