//! Pair steps judged by what they cost the hands.

mod examples;
mod laws;
pub mod solves;
mod witnesses;
