//! Messages about two records that do not begin alike.

use super::findings;

const ANYWAY: &str = "to compare them all the same, add `--anyway`";

/// A token that differs between two scrambles.
#[derive(Debug, Clone, Copy)]
pub struct ScrambleSlip<'a> {
    /// The token's number in the scramble that is shown, from 1.
    pub token: usize,
    /// What stands there.
    pub here: &'a str,
    /// What stands in the other.
    pub there: &'a str,
    /// The name of the other record.
    pub other: &'a str,
    /// How many pieces are placed otherwise, in words.
    pub pieces: &'a str,
}

findings! {
    "What only `diff` says";

    /// The two scrambles are the same but for a few tokens, and so the positions differ. Both places are shown;
    /// correct whichever is mistyped. (Shown with the first record it is a note.)
    Fault "scramble-slip" {
        fn scramble_slip(slip: &ScrambleSlip<'_>) {
            message: format!(
                "the same scramble with a slip: at token {} stands {} here and {} in {}; so the positions \
                 differ ({})",
                slip.token, slip.here, slip.there, slip.other, slip.pieces
            ),
            label: format!("{} here", slip.here),
            help: format!("correct whichever is mistyped; {ANYWAY}"),
        }
        /// The same, with the record that the other is held against: there it is a note.
        fn scramble_slip_there(token: usize, there: &str) {
            message: format!("at token {token} stands {there} in the record it is compared with"),
            label: format!("{there} here"),
            help: format!("correct whichever is mistyped; {ANYWAY}"),
        }
        example: r"title: first of the morning
scramble: R2 U F2 D' L
solution: L' D F2 U' R2",
        against: r"title: the same by another
scramble: R2 U' F2 D' L
solution: L' D F2 U R2",
    }

    /// The same scramble, applied to a cube held otherwise, so that every colour is another one. The rotation
    /// to write before it is given.
    Fault "scramble-turned" {
        fn scramble_turned(other: &str, rotations: &str) {
            message: format!("the same scramble as {other}, but applied to a cube held otherwise, so the colours differ"),
            help: format!("begin this scramble with `{rotations}`, after which it is the same position; {ANYWAY}"),
        }
        example: r"title: first of the morning
scramble: R2 U F2 D' L
solution: L' D F2 U' R2",
        against: r"title: the same by another
scramble: F2 U L2 D' B
solution: B' D L2 U' F2",
    }

    /// Another scramble. Solutions of different positions cannot be told apart turn by turn; `--anyway`
    /// compares their steps.
    Fault "scramble-other" {
        fn scramble_other(other: &str, pieces: &str) {
            message: format!("another scramble than {other}: {pieces}"),
            help: ANYWAY,
        }
        example: r"title: first of the morning
scramble: R2 U F2 D' L
solution: L' D F2 U' R2",
        against: r"title: the same by another
scramble: L D B' F2 R
solution: R' F2 B D' L'",
    }
}
