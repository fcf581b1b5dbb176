//! A small seeded generator of random numbers, so that every run of a test sees the same solves.

/// SplitMix64 (G. Steele, D. Lea, C. Flood, "Fast splittable pseudorandom number generators", 2014; from
/// memory): good enough to shuffle cubes, and the same on every machine.
#[derive(Debug, Clone)]
pub struct Rng(u64);

impl Rng {
    /// The same seed gives the same numbers for ever.
    pub fn new(seed: u64) -> Rng {
        Rng(seed)
    }

    /// Any 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number from 0 to `n - 1`; `n` is small, so the bias of the remainder does not matter.
    pub fn below(&mut self, n: usize) -> usize {
        (self.bits() % n as u64) as usize
    }

    /// A number from 0 up to, but not including, 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// True with the given probability.
    pub fn chance(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// The index of the lowest cost after each was lowered by random noise; the larger `temper`, the more
    /// often a dearer one wins. (Gumbel noise: the choice is that of a softmax.) `None` for no costs.
    pub fn pick(&mut self, costs: impl IntoIterator<Item = f64>, temper: f64) -> Option<usize> {
        let mut best: Option<(usize, f64)> = None;
        for (i, cost) in costs.into_iter().enumerate() {
            let noise = -libm::log(-libm::log(self.unit() + 1e-300));
            let score = cost - temper * noise;
            if best.is_none_or(|(_, low)| score < low) {
                best = Some((i, score));
            }
        }
        best.map(|(i, _)| i)
    }
}
