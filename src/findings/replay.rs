//! Messages about what the replay finds: the end, the claims of comments, the clock.

use super::findings;

findings! {
    "What the replay says";

    /// The cube is not solved after the last turn, nor one turn short of it.
    Fault "end-unsolved" {
        fn end_unsolved() {
            message: "the cube is not solved after the last turn",
            label: "more than one turn from solved here",
            help: "a prime may be missing or a turn mistyped; `cornerwise mend` looks for it",
        }
        example: r"scramble: R2 U F2
solution: F2 U R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// The record breaks off where a step is done, and all that is written holds: the rest is not there. That is no
    /// fault; the last position is told as one to play from.
    Note "end-unfinished" {
        fn end_unfinished(step: &str) {
            message: format!("the record breaks off with {step} done; all that is written holds"),
            label: "it ends here",
            help: "if it is meant to end here, say so with `until`; else write the turns that follow",
        }
        example: r"scramble: R U R' D
solution: D' // cross",
        instead: r"scramble: R U R' D
solution: D' // cross
until: cross",
    }

    /// The record says that it is meant to end earlier than with a solved cube, and it does not get so far.
    Fault "until-missed" {
        fn until_missed(until: &str) {
            message: format!("the record is meant to end with `{until}` done, and it is not"),
            label: "it ends here",
            help: "a prime may be missing or a turn mistyped; or write in `until` how far it goes",
        }
        example: r"scramble: R2 U F2 R
solution: F2 U R2
until: two layers",
        instead: r"scramble: R2 U F2 R
solution: R' F2 U' R2
until: two layers",
    }

    /// The cube is one turn short of solved: a solve with a penalty of two seconds (WCA Regulation 10e3), or a
    /// last turn that was not written down.
    Note "end-one-turn-short" {
        fn end_one_turn_short(turn: &str) {
            message: "the cube is one turn short of solved",
            label: format!("`{turn}` would solve it"),
            help: "such an end counts as solved with a penalty of two seconds (WCA Regulation 10e3); if the turn was \
                   made, write it",
        }
        example: r"scramble: R2 U F2
solution: F2 U'",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A comment says that a step is done, and the replay says that it is not. There is often a mistyped turn
    /// shortly before.
    Note "claim-contradicted" {
        /// `more` claims after it do not hold either: what follows a mistake is mostly wrong too.
        fn claim_contradicted(comment: &str, claimed: &str, found: &str, more: usize) {
            message: {
                let more = match more {
                    0 => String::new(),
                    1 => "; one claim after it does not hold either".to_string(),
                    n => format!("; {n} claims after it do not hold either"),
                };
                format!("the comment says “{comment}”, but {found}{more}")
            },
            label: format!("{claimed} is not reached by these turns"),
            help: "look for a mistyped turn here or shortly before",
        }
        fn case_contradicted(comment: &str, found: &str) {
            message: format!("the comment says “{comment}”, but the replay has {found}"),
            help: "the number or letter may be mistyped, or a turn before it",
        }
        example: r"scramble: R2 U F2
solution: F2 U R2 // cross",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// The marks and the result of the timer do not fit together.
    Note "time-differs" {
        fn time_differs(timer: f64, marks: f64) {
            message: format!(
                "the timer says {timer:.2} s, the marks from first turn to last {marks:.2} s: {:.2} s apart",
                (marks - timer).abs()
            ),
            label: "the timer",
            second: "the last mark",
            help: if marks > timer {
                "the turns cannot take longer than the solve: look for a misread mark or result"
            } else {
                "picking the cube up and putting it down may be the difference; if not, a mark or the result is off"
            },
        }
        example: r"scramble: R2 U F2
solution: <0.00> F2 U' R2 <1.20>
time: 9.84",
        instead: r"scramble: R2 U F2
solution: <0.00> F2 U' R2 <1.20>
time: 1.20",
    }
}
