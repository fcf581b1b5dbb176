//! Finding what is wrong with a record, and what it would take to put it right.

pub mod edit;
pub mod held;
pub mod search;
