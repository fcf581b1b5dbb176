//! What the integration tests share. Nothing here uses the code it is there to check, except for the plain
//! names of moves and colours.
#![allow(dead_code, reason = "every test file uses its own part of this")]

pub mod cases;
pub mod random;
pub mod read;
pub mod solver;
