//! How much may be done for one record: counted in steps, never by a clock, so that the same record comes to the
//! same end on every machine.
//!
//! A step is a position played, put into a table or looked up there: some tens of nanoseconds. What is allowed
//! grows with the bytes of the record up to a ceiling, so that no text, however odd, costs more than a text of its
//! length may; an ordinary record needs a tenth of it. Whoever runs out says so ([`Searched::cut_short`]).
//!
//! [`Searched::cut_short`]: crate::mend::Searched::cut_short

/// Steps allowed for the shortest record: what it takes to fill a gap of eight turns.
const STEPS_FOR_ANY: u64 = 3_000_000;
/// Steps allowed for each byte besides.
const STEPS_A_BYTE: u64 = 50_000;
/// Steps allowed for any record: about a second.
const MOST_STEPS: u64 = 40_000_000;

/// Steps done and steps left.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Work {
    done: u64,
    left: u64,
    /// Whether more was asked for than was left.
    spent: bool,
}

impl Work {
    /// What a record of so many bytes is allowed.
    #[must_use]
    pub fn for_bytes(bytes: usize) -> Work {
        Work::of((bytes as u64).saturating_mul(STEPS_A_BYTE).saturating_add(STEPS_FOR_ANY).min(MOST_STEPS))
    }

    /// So many steps.
    #[must_use]
    pub const fn of(allowed: u64) -> Work {
        Work { done: 0, left: allowed, spent: false }
    }

    /// Half of what is left, to be spent apart; what comes of it is taken off by whoever asked.
    #[must_use]
    pub const fn half(&self) -> Work {
        Work::of(self.left / 2)
    }

    /// Takes steps that are about to be made; whether they may be. Once some may not, none may.
    #[inline]
    pub fn spend(&mut self, steps: u64) -> bool {
        self.spent |= steps > self.left;
        if !self.spent {
            self.left -= steps;
            self.done += steps;
        }
        !self.spent
    }

    /// Whether more was asked for than was left.
    #[must_use]
    pub const fn is_spent(&self) -> bool {
        self.spent
    }

    /// Steps made.
    #[must_use]
    pub const fn done(&self) -> u64 {
        self.done
    }

    /// The most that a record of so many bytes may cost.
    #[must_use]
    pub fn most(bytes: usize) -> u64 {
        Work::for_bytes(bytes).left
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_spent_stays_spent() {
        let mut work = Work::of(10);
        assert!(work.spend(10));
        assert!(!work.spend(1) && work.is_spent());
        assert!(!work.spend(0), "and stays so");
        assert!(!work.spend(u64::MAX));
        assert_eq!(work.done(), 10);
    }

    #[test]
    fn longer_texts_are_allowed_more_up_to_a_ceiling() {
        let mut one = Work::for_bytes(1);
        assert!(one.spend(STEPS_FOR_ANY + STEPS_A_BYTE) && !one.spend(1));
        let mut most = Work::for_bytes(1 << 20);
        assert!(most.spend(MOST_STEPS) && !most.spend(1));
    }
}
