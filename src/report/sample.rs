//! A real annotation for the tests of the views: of a record kept here, timed or with its times taken away.

use crate::annotate::{Settings, annotate};
use crate::annotation::Annotation;
use crate::diagnostic::Source;
use crate::record;
use crate::study::Study;

/// The facts of a record with marks on both sides of every step, and long pauses before two.
pub(crate) fn annotation(timed: bool) -> Annotation {
    let source =
        Source::new("all-four-tiers.yaml", include_str!("../../reconstructions/all-four-tiers.yaml"));
    let mut record = record::read(&source).records.remove(0);
    if !timed {
        record.solution.marks.clear();
        record.time = None;
    }
    annotate(&Study::new(&source, 1, &record), &Settings::default()).facts
}
