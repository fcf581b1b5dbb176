//! The cube and what is said of it in writing: the model, its group, published values, the notation, the cases of the
//! last layer, the search, what lines cost the hands.

mod group;
mod hands;
mod last_layer;
mod model;
mod notation;
mod oracle;
mod published;
mod search;

#[path = "../support/mod.rs"]
mod support;
