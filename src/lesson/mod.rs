//! A tutorial of one's own: Markdown with blocks that say what belongs there.
//!
//! A fenced block whose info string begins with `cornerwise` is replaced by what it asks for; everything else stays as it
//! is. The info string is
//!
//! ```text
//! cornerwise WHAT [of FILE[#N]] [at WHERE]
//! cornerwise drill KIND [N] [seed SEED]
//! ```
//!
//! WHAT is `position`, `step`, `lanes`, `player`, `both lines` or `question`. The record is named (`of`) or written in the
//! block. WHERE is a step, as the table of `annotate` calls it (`cross`, `pair 2`), or the number of a moment. A question
//! at `pair 2` is what is asked before pair 2 begins. A drill is of no record: its positions are made to order, the same
//! ones every time.
//!
//! [`read`] finds the blocks, `parts` makes of one block what it asks for, and [`markdown`] and [`page`] put them in
//! their places: as Markdown with pictures beside it, and as one page that needs nothing else. A fault in a block is told
//! with its place in the lesson; the rest is made all the same. CommonMark is read by pulldown-cmark.

mod ask;
mod made;

pub use ask::{Ask, Practice, Show, Where, read};
pub use made::{Made, OfSolve, Shown, markdown, page, practise, show};
