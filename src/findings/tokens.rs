//! Messages about single tokens, and what stands between them.

use super::findings;

findings! {
    "Tokens";

    /// This is no turn and no rotation. The nearest legal tokens are named, if there are any.
    Fault "token-unknown" {
        /// `near` are the legal tokens that may have been meant, the nearest first.
        fn token_unknown(found: &str, near: &[String]) {
            message: format!("expected a turn or rotation, found `{found}`"),
            help: match near {
                [] => "turns are U D F B R L, wide Uw or u, M E S; rotations x y z".to_string(),
                [one] => format!("did you mean `{one}`?"),
                [most @ .., last] => format!("did you mean `{}` or `{last}`?", most.join("`, `")),
            },
        }
        fn token_two_dots() {
            message: "expected a turn or rotation, found `..`",
            help: "write `...` where turns are missing, nothing between phrases",
        }
        example: r"scramble: R2 U F2
solution: F2 K' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// There are words where turns should be. A remark begins with `//` or `#`.
    Fault "words-not-turns" {
        fn words_not_turns(found: &str) {
            message: format!("expected turns, found `{found}`"),
            help: format!("if it is a remark, write `// {found}`"),
        }
        example: r"scramble: R2 U F2
solution: F2 U' R2 cross",
        instead: r"scramble: R2 U F2
solution: F2 U' R2 // cross",
    }

    /// A layer number that does not exist on this cube, or that stands before a turn of one layer. WCA
    /// Regulation 12a2+ knows `2Rw` only, the same as `Rw`.
    Fault "layer-invalid" {
        fn layer_invalid(found: &str) {
            message: format!("expected a turn, found `{found}`"),
            help: "the only layer number on this cube is 2 before a wide turn: `2Rw`; for a half turn write `R2`",
        }
        example: r"scramble: R2 U F2
solution: 3Rw U' R2",
        instead: r"scramble: R2 U F2
solution: 2Rw U' R2",
    }

    /// A commutator `[A, B]` is not multiplied out.
    Fault "commutator" {
        fn commutator() {
            message: "expected plain turns, found a commutator",
            help: "write `[A, B]` out as A B A' B'",
        }
        example: r"R2 U F2

[R, U]",
        instead: r"R2 U F2

R U R' U'",
    }

    /// A scramble or a solution has more than 10,000 tokens, or would have with its groups multiplied out. Such
    /// a group is read once, and the solve is played no further.
    Fault "tokens-too-many" {
        fn tokens_too_many(most: usize) {
            message: format!("expected at most {most} tokens; what follows is not read"),
            help: "a solve has a hundred or so; is this the right file?",
        }
        /// Of a whole file.
        fn tokens_too_many_in_file(most: usize) {
            message: format!("expected at most {most} tokens in a file, with all groups multiplied out; what follows is not read"),
            help: "are the counts right? else split the file",
        }
        fn tokens_too_many_in_group(most: usize) {
            message: format!("expected at most {most} tokens with all groups multiplied out"),
            help: "the group is read once; is the count right?",
        }
        example: r"scramble: R2 U F2
solution: (R U)999999999",
        instead: r"scramble: R2 U F2
solution: (R U)9",
    }

    /// More than a hundred faults in one scramble or solution, or among the fields of one record; the rest are
    /// only counted.
    Fault "faults-too-many" {
        fn faults_too_many(more: usize) {
            message: format!("{more} more faults are not shown"),
            help: "is this a solve?",
        }
        fn fields_too_many(more: usize) {
            message: format!("{more} more faults among the fields are not shown"),
            help: "several records in one file go apart with a line `---`",
        }
    }

    /// Tokens without a space between them.
    Note "token-glued" {
        fn token_glued() {
            message: "no space before the token",
            help: "put a space between tokens: `U D'`",
        }
        example: r"scramble: R2 U F2
solution: F2U'R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A prime that a word processor or a phone has made into another sign.
    Note "prime-typographic" {
        fn prime_typographic(token: &str) {
            message: "not the plain prime, read as one",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: F2 U’ R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// Rotations are written small.
    Note "rotation-capital" {
        fn rotation_capital(token: &str) {
            message: "a capital rotation, read as the small letter",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: X2 U' R2",
        instead: r"scramble: R2 U F2
solution: x2 U' R2",
    }

    /// Slices are written with capitals.
    Note "slice-small" {
        fn slice_small(token: &str) {
            message: "a small slice letter, read as the capital",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: m U' R2",
        instead: r"scramble: R2 U F2
solution: M U' R2",
    }

    /// `RW` and `rw` are read as `Rw`.
    Note "wide-case" {
        fn wide_case(token: &str) {
            message: "read as the wide turn",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: RW U' R2",
        instead: r"scramble: R2 U F2
solution: Rw U' R2",
    }

    /// The parts of a token are in an unusual order: `R'2` for `R2'`, `R'w` for `Rw'`.
    Note "suffix-order" {
        fn suffix_order(token: &str) {
            message: "the parts of the suffix are in an unusual order",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: F'2 U' R'w",
        instead: r"scramble: R2 U F2
solution: F2' U' Rw'",
    }

    /// `R1`, `Ri`, `R²` are read as `R`, `R'`, `R2`.
    Note "suffix-unusual" {
        fn suffix_unusual(token: &str) {
            message: "an unusual suffix",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: F² Ui R1",
        instead: r"scramble: R2 U F2
solution: F2 U' R",
    }

    /// A blank between a turn and its suffix.
    Note "suffix-apart" {
        fn suffix_apart(token: &str) {
            message: "a suffix apart from its turn",
            help: format!("write `{token}`"),
        }
        example: r"scramble: R2 U F2
solution: F 2 U ' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A comma, dash, dot or quote between tokens. It means nothing.
    Note "separator-stray" {
        fn separator_stray() {
            message: "a sign between tokens that means nothing here",
            help: "a space is enough between tokens",
        }
        example: r"scramble: R2 U F2
solution: F2, U', R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A number begins the line: `1.`, `2)` or `3:`. It is passed over.
    Note "line-number" {
        fn line_number() {
            message: "a number before the turns of a line, passed over",
            help: "leave it out",
        }
        example: r"1. R2 U F2

F2 U' R2",
        instead: r"R2 U F2

F2 U' R2",
    }

    /// Words with a colon begin the line, such as `Cross:` or `1st pair:`. They are read as a comment on the
    /// turns behind them.
    Note "label-comment" {
        fn label_comment(label: &str) {
            message: "a label, read as a comment on the turns behind it",
            help: format!("write `// {label}` behind the turns, or on a line of its own above them"),
        }
        example: r"R2 U F2

Begin: F2
End: U' R2",
        instead: r"R2 U F2

F2 // begin
U' R2 // end",
    }

    /// A number in brackets ends the line: how many turns it has. It is read as a comment and not held against
    /// anything.
    Note "count-comment" {
        fn count_comment(count: &str) {
            message: "a number in brackets ends the line, read as a comment",
            help: format!("write `// {count}`"),
        }
        example: r"R2 U F2

F2 U' R2 (3)",
        instead: r"R2 U F2

F2 U' R2 // 3",
    }

    /// `R?` is read as `R` and then one token that could not be made out. For a doubtful token write `?` alone.
    Note "unknown-glued" {
        fn unknown_glued() {
            message: "read as a token more that could not be made out",
            help: "put a space before the `?`, or write `?` alone in place of a doubtful token",
        }
        example: r"scramble: R2 U F2
solution: F2 U'? R2",
        instead: r"scramble: R2 U F2
solution: F2 ? R2",
    }
}
