//! `diff`: laws that hold for every two solves, facts of the records kept here, what the person reads, and the
//! frame of the scramble against SymPy.

mod cli;
mod facts;
mod frame;
mod laws;
mod meetings;
mod schema;
mod sides;
mod split;
mod views;
mod words;
