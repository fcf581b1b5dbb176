//! How a solve could have gone without a stop: from any moment, what every open pair offers, and the cheapest unbroken
//! order of all pairs that are left.
//!
//! [`Planner`] knows positions; [`plan`](fn@plan) puts it to a moment of a solve and sets what was played beside it. Everything is
//! exact for what was searched, and the facts say what that is: the lines that may be played are hand lines of at most
//! [`Settings::within`] turns that read without a shifted and without a nested phrase and cost at most
//! [`Settings::over`] more than the cheapest such line of their pair from there, each in its ways of least cost
//! ([`hands`](crate::hands)). `docs/plan.md` tells a person the same.

mod facts;
mod lines;
mod make;
mod order;
mod record;

pub use facts::{
    Compared, Format, Line, Moment, Next, Offered, Plan, Planned, Played, PlayedStep, SettingsUsed,
};
pub use lines::{OVER, Planner, Settings};
pub use make::{NoPlan, plan};
pub use order::{Order, OrderLine, Searched};
pub use record::record;
