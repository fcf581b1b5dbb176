//! Messages about the blocks of a lesson.

use super::findings;

findings! {
    "What only `lesson` says";

    /// A fenced block whose first word is `cornerwise` says what belongs there; this one says something else, or
    /// something more. The line is `cornerwise WHAT of FILE#N at WHERE`; of it only WHAT is always needed.
    Fault "lesson-what" {
        fn lesson_what(found: &str, nearest: Option<&str>) {
            message: if found.is_empty() {
                "expected what to show".to_owned()
            } else {
                format!("expected what to show, found `{found}`")
            },
            help: match nearest {
                Some(nearest) => format!("write `{nearest}`"),
                None => "write `position`, `step`, `lanes`, `player`, `both lines`, `question` or `drill`".to_owned(),
            },
        }
        fn lesson_more(found: &str) {
            message: format!("expected `of FILE` or `at WHERE`, found `{found}`"),
            help: "such as `cornerwise question of morning.yaml#2 at pair 1`",
        }
    }

    /// A block of a drill is `cornerwise drill KIND`, then how many positions and with which seed, if one will. It stands for
    /// itself: no record belongs to it.
    Fault "lesson-drill" {
        fn lesson_drill(found: &str, kinds: &str, most: usize) {
            message: if found.is_empty() {
                "expected the kind of drill".to_owned()
            } else {
                format!("expected a kind of drill, then how many, found `{found}`")
            },
            help: format!(
                "a kind is one of {kinds}; up to {most} positions, such as `cornerwise drill find 3 seed 7`"
            ),
        }
        fn lesson_drill_body() {
            message: "a drill makes its own positions, and something is written in the block",
            help: "leave the block empty",
        }
        fn lesson_drill_unmet(why: &str) {
            message: why,
            help: "another seed may find one",
        }
    }

    /// The record that a block needs is not there: neither `of FILE` nor a record in the block itself, or a file that
    /// cannot be read, or one that holds several records. Files are looked for beside the lesson.
    Fault "lesson-record" {
        fn lesson_no_record() {
            message: "expected a record",
            help: "name one with `of FILE#N`, or write scramble, blank line and solution into the block",
        }
        fn lesson_two_records() {
            message: "a record is named, and another one written in the block",
            help: "keep one of them",
        }
        fn lesson_unread(why: &str) {
            message: why,
            help: "files are looked for beside the lesson",
        }
        fn lesson_which(n: usize) {
            message: format!("here are {n} records, and a block shows one"),
            help: "say which: `of FILE#2`",
        }
    }

    /// The step or the moment that a block names is not in its record, or it needs one and names none. Steps are called
    /// as the table of `annotate` calls them.
    Fault "lesson-where" {
        fn lesson_where(found: &str, steps: &str, last: usize) {
            message: if found.is_empty() {
                "expected a step or a moment".to_owned()
            } else {
                format!("there is no step or moment `{found}`")
            },
            help: format!("steps are {steps}; moments are 0 to {last}"),
        }
    }

    /// There is nothing of the kind at this place: no other line that is worth showing, no pair to ask for, no lanes
    /// because no pair was solved.
    Fault "lesson-nothing" {
        fn lesson_no_line(step: &str) {
            message: format!("no other line is worth showing at {step}"),
            help: "`step` shows what was played",
        }
        fn lesson_no_question(step: &str) {
            message: format!("there is nothing to ask before {step}: no pair is taken there"),
            help: "name a pair step, such as `at pair 2`",
        }
        fn lesson_no_lanes() {
            message: "there are no lanes: no pair is solved here",
            help: "`position` shows a single moment",
        }
    }

    /// A lesson is one page, which has to be held whole. The blocks up to this one are filled in.
    Fault "lesson-long" {
        fn lesson_long(most: usize) {
            message: format!("expected at most {most} blocks in a lesson"),
            help: "write the rest as another lesson",
        }
    }
}
