//! Other lines: verdicts and alternatives against a slow judge, and laws they must obey.

mod command;
mod judge;
mod laws;
mod slow_judge;
mod steps;
