//! Replays a written cube solve and says, pair by pair, where the next corner was, which tier of the scan
//! finds it, when it could have been known, and whether another choice would have kept the flow.
//!
//! Data goes one way: text → [`cube`] values → facts → views. `DEVELOPERS.md` draws the house. The program
//! `cornerwise` is one user of this library; it adds nothing to what is said.
//!
//! What whoever uses the library needs:
//!
//! | room | for |
//! |---|---|
//! | [`diagnostic`], [`record`], [`paste`] | a text and its messages; the records in it, strictly or as people paste them |
//! | [`study`], [`annotate`], [`annotation`] | a record replayed; its facts made; the facts |
//! | [`diff`], [`plan`], [`drill`], [`survey`] | two solves; the order without a stop; positions made to order; many solves |
//! | [`mend`], [`timing`], [`lesson`] | repairs; times put in; tutorials |
//! | [`report`] | every view of facts: text, Markdown, pages, pictures, captions, JSON |
//! | [`cube`], [`steps`], [`clock`], [`judgement`], [`hands`], [`search`] | the values that facts and settings are made of |
//!
//! The other rooms are open to the program and to the tests beside this library; they are left out of its documentation and
//! promise nothing.
//!
//! Reading a text, asking a fact, printing the text view:
//!
//! ```
//! use cornerwise::annotate::{Settings, annotate};
//! use cornerwise::annotation::StepKind;
//! use cornerwise::diagnostic::Source;
//! use cornerwise::record;
//! use cornerwise::report::look::Look;
//! use cornerwise::report::text::{self, Show};
//! use cornerwise::study::Study;
//!
//! // Invented: a scramble, and a solution that ends after the second pair.
//! let source = Source::new(
//!     "demo.yaml",
//!     "scramble: B' L B U D2 B' R D' F U R2 U R2 L2 B' L' F' B L2 B2\n\
//!      solution: |\n\
//!      \x20 x2 y  U' L2 F' L D' R2  // cross\n\
//!      \x20 U' L' U L              // 1st pair\n\
//!      \x20 R' U R d' R' U' R      // 2nd pair\n",
//! );
//! let reading = record::read(&source);
//! assert!(reading.diagnostics.is_empty());
//!
//! let study = Study::new(&source, 1, &reading.records[0]);
//! let facts = annotate(&study, &Settings::default()).facts;
//! let steps = facts.steps.iter().filter(|step| step.kind == StepKind::Pair);
//! let pairs: Vec<String> = steps.flat_map(|step| &step.pairs).map(|pair| pair.to_string()).collect();
//! assert_eq!(pairs, ["blue-red", "blue-orange"]);
//!
//! let text = text::render(&facts, Show::default(), &Look::plain());
//! assert!(text.contains("pair 1  blue-red"));
//! ```

#![warn(missing_docs)]

pub mod annotate;
pub mod annotation;
pub mod clock;
pub mod cube;
pub mod diagnostic;
pub mod diff;
pub mod drill;
pub mod hands;
pub mod judgement;
pub mod lesson;
pub mod mend;
pub mod paste;
pub mod plan;
pub mod record;
pub mod report;
pub mod search;
pub mod steps;
pub mod study;
pub mod survey;
pub mod timing;

#[doc(hidden)]
pub mod findings;
#[doc(hidden)]
pub mod harmless;
#[doc(hidden)]
pub mod look_ahead;
#[doc(hidden)]
pub mod notation;
#[doc(hidden)]
pub mod replay;
#[doc(hidden)]
pub mod scan;
#[doc(hidden)]
pub mod scramble;
#[doc(hidden)]
pub mod sight;
#[doc(hidden)]
pub mod story;
#[doc(hidden)]
pub mod words;

mod written;
