//! Numbers that look random and are the same on every machine.

/// Marsaglia's xorshift generator (G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003;
/// the shifts 13, 7, 17 are from memory).
pub struct Random(u64);

impl Random {
    /// A generator with its own seed; the same seed gives the same numbers.
    pub fn new(seed: u64) -> Random {
        Random(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1)
    }

    /// A number below `bound`.
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 32) % bound as u64) as usize
    }

    /// One of the items.
    pub fn pick<T: Copy>(&mut self, items: &[T]) -> T {
        items[self.below(items.len())]
    }

    /// A sequence of between `least` and `most` items, each chosen alike.
    pub fn sequence<T: Copy>(&mut self, items: &[T], least: usize, most: usize) -> Vec<T> {
        let length = least + self.below(most - least + 1);
        (0..length).map(|_| self.pick(items)).collect()
    }
}
