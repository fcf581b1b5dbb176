//! A defect that ends the work on one record does not take the others with it.

use std::panic::{AssertUnwindSafe, catch_unwind};

use cornerwise::harmless::one_line;
use rayon::prelude::*;

/// What `work` made, or nothing if a defect of the program ended it; Rust has said where by then.
pub(super) fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    catch_unwind(AssertUnwindSafe(work)).ok()
}

/// What `work` makes of each, side by side and in their order; nothing of those on which it failed.
pub(super) fn each_guarded<T: Sync, U: Send>(all: &[T], work: impl Fn(&T) -> U + Sync) -> Vec<Option<U>> {
    all.par_iter().map(|one| guarded(|| work(one))).collect()
}

/// What is said of the record.
pub(super) fn failed(name: &str) -> String {
    format!(
        "{}: cornerwise failed on this record; that is its own defect, and the others are not touched",
        one_line(name)
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_fails_takes_nothing_else_with_it() {
        let all: Vec<u32> = (0..200).collect();
        let made = each_guarded(&all, |&n| {
            assert!(n % 50 != 7, "a defect");
            n * n
        });
        let expected: Vec<_> = (0..200).map(|n| (n % 50 != 7).then_some(n * n)).collect();
        assert_eq!(made, expected);
        assert_eq!(failed("a\u{1b}.yaml").matches('\u{1b}').count(), 0);
    }
}
