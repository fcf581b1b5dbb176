//! The built program from outside: what it prints and writes, its pages and its JSON, and that the documents say the
//! same.

mod cli;
mod example_pages;
mod harmless;
mod helps;
mod house;
mod mend_cli;
mod mend_facts;
mod messages;
mod naming;
mod output;
mod readme;
mod replays;
mod reviewed;
mod saved;
mod schema;
mod views;

#[path = "../support/mod.rs"]
mod support;
