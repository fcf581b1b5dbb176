//! Pair steps judged by what they cost the hands.

mod examples;
mod laws;
mod solves;
mod witnesses;
