//! What is made of a solve: its steps, what the eyes had, what could have been done, the facts of an annotation, and
//! two solves compared; with the generator of the solves that all of this is tried on.

mod annotation_facts;
mod clock;
mod command;
mod cost_most;
mod diff;
mod does_not_fit;
mod drill;
mod facts_model;
mod grade_laws;
mod grades;
mod judged;
mod known_matching;
mod levels;
mod plan;
mod same_facts;
mod second;
mod sight;
mod solver;
mod steps_model;
mod survey;
mod tier_shares;

#[path = "../support/mod.rs"]
mod support;
