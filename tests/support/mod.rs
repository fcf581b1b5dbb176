//! What the integration tests share. `read` and `space` use nothing of the code they are there to check,
//! except for the plain names of moves and colours.
#![allow(dead_code, reason = "every test crate uses its own part of this")]

pub mod broken;
pub mod cases;
pub mod damage;
pub mod elimination;
pub mod facelets;
pub mod folders;
pub mod pastes;
pub mod python;
pub mod random;
pub mod read;
pub mod rewrite;
pub mod season;
pub mod slips;
pub mod slow_steps;
pub mod solver;
pub mod space;
pub mod switch;
