//! The views: text, Markdown, pages, pictures, captions and JSON, each printed from an
//! [`Annotation`](crate::annotation::Annotation).
//!
//! Views compute no facts. What they may do is lay out: choose words, measure widths, turn the place names of an
//! annotation into points on paper. Escaping belongs to the writers ([`markup`] for XML and HTML, each plain
//! format for itself), because every title and comment comes from a file somebody else wrote.

pub mod account;
pub mod axis;
pub mod captions;
pub mod diagnostics;
pub mod diff;
pub mod drills;
pub mod figures;
pub mod html;
pub mod json;
pub mod lanes;
pub mod lanes_svg;
pub mod look;
pub mod markdown;
pub mod markup;
pub mod mend;
pub mod net;
pub mod picture;
pub mod plans;
pub mod positions;
#[cfg(test)]
pub(crate) mod sample;
pub mod survey;
pub mod text;
pub mod timing;
pub mod typeset;
pub mod words;
