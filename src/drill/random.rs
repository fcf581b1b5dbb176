//! Numbers that look random and are the same on every machine.

/// The generator called SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", OOPSLA
/// 2014; the constants are from memory).
#[derive(Debug, Clone)]
pub struct Random(u64);

const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

impl Random {
    /// The numbers of position `number` of the drill with this seed: every position has its own, so that it does not
    /// matter which is drawn first.
    #[must_use]
    pub fn new(seed: u64, number: u64) -> Random {
        let mut random = Random(seed);
        let own = random.next() ^ number.wrapping_mul(STEP);
        let mut random = Random(own);
        random.next();
        random
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        let mixed = (self.0 ^ self.0 >> 30).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ mixed >> 27).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ mixed >> 31
    }

    /// A number below `bound`, each as likely as the others: what would make some likelier is drawn again.
    ///
    /// # Panics
    /// If `bound` is 0.
    pub fn below(&mut self, bound: usize) -> usize {
        let bound = bound as u64;
        let whole = u64::MAX - u64::MAX % bound;
        loop {
            let drawn = self.next();
            if drawn < whole {
                return (drawn % bound) as usize;
            }
        }
    }

    /// Puts items in any order, each as likely as the others (R. Durstenfeld's form of the Fisher-Yates shuffle, from memory).
    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for i in (1..items.len()).rev() {
            items.swap(i, self.below(i + 1));
        }
    }
}
