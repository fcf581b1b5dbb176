//! Numbers that look random and are the same on every machine: for shuffles and for drawing solves anew.

/// SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, "Fast splittable pseudorandom number generators", 2014).
#[derive(Debug, Clone)]
pub(super) struct Random(u64);

/// What the generator's counter goes on by: the golden ratio, odd.
const STEP: u64 = 0x9e37_79b9_7f4a_7c15;

impl Random {
    /// The `n`-th of the generators that belong to a seed: work that is shared out among threads takes one for each
    /// share, so that it does not matter who does which.
    pub(super) const fn new(seed: u64, n: u64) -> Random {
        // Far apart, and not on one line with the counter's own steps.
        Random(mixed(seed.wrapping_add(mixed(n.wrapping_add(1)))))
    }

    /// Any 64 bits.
    pub(super) const fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(STEP);
        mixed(self.0)
    }

    /// A number below `bound`, each as likely as the others to within `bound` in 2^32.
    pub(super) const fn below(&mut self, bound: usize) -> usize {
        (((self.bits() >> 32) * bound as u64) >> 32) as usize
    }

    /// Puts the items in random order.
    pub(super) fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            items.swap(last, self.below(last + 1));
        }
    }
}

const fn mixed(bits: u64) -> u64 {
    let bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
    let bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
    bits ^ (bits >> 31)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The first outputs for the seed 0 of the published generator (from memory).
    #[test]
    fn it_is_the_published_generator() {
        let mut random = Random(0);
        let first = [random.bits(), random.bits(), random.bits()];
        assert_eq!(first, [0xe220_a839_7b1d_cdaf, 0x6e78_9e6a_a1b9_65f4, 0x06c4_5d18_8009_454f]);
    }

    /// 24 orders of four, 24,000 times: each about 1,000 times. The sum of squared deviations is chi-square with 23
    /// degrees of freedom, above 50 once in 1,000.
    #[test]
    fn every_order_is_as_likely() {
        let mut random = Random::new(7, 0);
        let mut met = std::collections::BTreeMap::new();
        for _ in 0..24_000 {
            let mut items = [0, 1, 2, 3];
            random.shuffle(&mut items);
            *met.entry(items).or_insert(0.0) += 1.0;
        }
        assert_eq!(met.len(), 24);
        let chi_square: f64 = met.values().map(|n: &f64| (n - 1000.0).powi(2) / 1000.0).sum();
        assert!(chi_square < 50.0, "{chi_square}");
    }
}
