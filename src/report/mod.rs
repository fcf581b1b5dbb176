//! Views: each prints from finished facts and computes none.

pub mod diagnostics;
pub mod json;
pub mod lanes;
pub mod look;
pub mod net;
pub mod positions;
pub mod text;
