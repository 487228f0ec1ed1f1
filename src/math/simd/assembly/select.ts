/** Fewer values than these are selected from as they are. */
const FEW: i32 = 256;
/** Values are sorted into drawers by sign, exponent and the first bits of the mantissa, then by the bits after those. */
const BITS: i32 = 11;
const DRAWERS: i32 = 1 << BITS;
const UPPER: i32 = 32 - BITS;
const LOWER: i32 = UPPER - BITS;

/** A number whose order among whole numbers is the value's among values. */
function orderOf(p: usize): u32 {
  const bits = load<i32>(p);
  return <u32>(bits ^ ((bits >> 31) | <i32>0x80000000));
}

/** Hoare's selection (CACM 1961, 4, 321) of the value at place `k` of `n` in order; reorders them. */
function hoare(p: usize, n: i32, k: i32): f32 {
  const wanted = p + (k << 2);
  let low = p;
  let high = p + ((n - 1) << 2);
  while (low < high) {
    const pivot = load<f32>(p + (((((low - p) >> 2) + ((high - p) >> 2)) >> 1) << 2));
    let i = low;
    let j = high;
    while (i <= j) {
      while (load<f32>(i) < pivot) i += 4;
      while (load<f32>(j) > pivot) j -= 4;
      if (i > j) break;
      const swap = load<f32>(i);
      store<f32>(i, load<f32>(j));
      store<f32>(j, swap);
      i += 4;
      j -= 4;
    }
    if (wanted <= j) high = j;
    else if (wanted >= i) low = i;
    else break;
  }
  return load<f32>(wanted);
}

/** The drawer in which place `k` lies; its place within it is left before the drawers. */
function drawerOf(drawers: usize, k: i32): u32 {
  let drawer = 0;
  let left = k;
  for (; left >= load<i32>(drawers + (drawer << 2)); drawer++) left -= load<i32>(drawers + (drawer << 2));
  store<i32>(drawers - 4, left);
  return drawer;
}

/** Moves those of `n` values whose order begins with `first`, but for its last `shift` bits, to the front; returns how many they are. */
function keep(p: usize, n: i32, first: u32, shift: i32): i32 {
  let to = p;
  for (let from = p, end = p + (n << 2); from < end; from += 4) {
    // put down whether it is kept or not: the next one takes its place where it is not
    store<f32>(to, load<f32>(from));
    to += orderOf(from) >>> shift === first ? 4 : 0;
  }
  return <i32>((to - p) >> 2);
}

function count(p: usize, n: i32, shift: i32, drawers: usize): void {
  memory.fill(drawers, 0, DRAWERS << 2);
  for (let from = p, end = p + (n << 2); from < end; from += 4) {
    const drawer = drawers + (((orderOf(from) >>> shift) & (DRAWERS - 1)) << 2);
    store<i32>(drawer, load<i32>(drawer) + 1);
  }
}

/**
 * The value at place `k` of `n` in order; of NaN there is none. Reorders them, and some are lost.
 * @param room for 2049 whole numbers
 */
export function selectNth(p: usize, n: i32, k: i32, room: usize): f32 {
  const drawers = room + 4;
  let left = k;
  let among = n;
  for (let shift = UPPER; shift >= LOWER && among > FEW; shift -= BITS) {
    count(p, among, shift, drawers);
    const drawer = drawerOf(drawers, left);
    const first = shift === UPPER ? drawer : ((orderOf(p) >>> UPPER) << BITS) | drawer;
    left = load<i32>(room);
    among = keep(p, among, first, shift);
  }
  return hoare(p, among, left);
}
