//! The built program from outside: what it prints and writes, its pages and its JSON, and that the documents say the
//! same.

#[cfg(unix)]
mod broken_off;
mod cli;
mod clock_cli;
#[cfg(unix)]
mod clock_terminal;
mod every_record;
mod example_pages;
mod harmless;
mod helps;
mod house;
mod lesson;
mod mend_cli;
mod mend_facts;
mod mend_safety;
mod messages;
mod naming;
mod order_and_drill;
mod output;
mod pictures;
mod read_cli;
mod readme;
mod replays;
mod reviewed;
mod saved;
mod schema;
mod survey_cli;
mod views;

#[path = "../support/mod.rs"]
mod support;
