//! A defect that ends the work on one record does not take the others with it.

use std::panic::{AssertUnwindSafe, catch_unwind};

use cornerwise::harmless::one_line;

/// What `work` made, or nothing if a defect of the program ended it; Rust has said where by then.
pub(super) fn guarded<T>(work: impl FnOnce() -> T) -> Option<T> {
    catch_unwind(AssertUnwindSafe(work)).ok()
}

/// What is said of the record.
pub(super) fn failed(name: &str) -> String {
    format!(
        "{}: cornerwise failed on this record; that is its own defect, and the others are not touched",
        one_line(name)
    )
}
