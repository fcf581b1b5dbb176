//! The search against slower, obvious ways and against the outside.

mod counts;
mod distances;
mod index;
mod positions;
mod slow_grammar;
mod slow_model;
mod symmetry;
