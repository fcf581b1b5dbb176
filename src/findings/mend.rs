//! Messages about what looks wrong to whoever looks for repairs.

use super::findings;

findings! {
    "What only `mend` says";

    /// A `?` or `...`: the writer could not make out what was played. `mend` looks for what fits.
    Fault "token-missing" {
        fn token_missing() {
            message: "one token that the writer could not make out",
            help: "`cornerwise mend` looks for what fits",
        }
        fn stretch_missing() {
            message: "a stretch that the writer could not make out",
            help: "`cornerwise mend` looks for the shortest turns that fit",
        }
        example: r"scramble: R2 U F2
solution: F2 ? R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A turn is undone by the next one, with no mark between them, and the cube is solved all the same. Nobody
    /// plays that.
    Note "turn-undone" {
        fn turn_undone(before: &str, here: &str) {
            message: format!("`{before}` is undone at once by `{here}`"),
            second: "",
            help: "the cube is solved all the same; were these turns really made?",
        }
        example: r"scramble: R2 U F2
solution: F2 L L' U' R2",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }

    /// A step was played three times faster or slower than the rest of the solve, pauses left out. A mark may
    /// be misread.
    Note "pace-implausible" {
        fn pace_implausible(step: &str, own: f64, rest: f64) {
            message: format!("{step} has {own:.2} s a turn, the rest of the solve {rest:.2} s"),
            help: if own < rest {
                "a mark is misread, or turns are written that were not made"
            } else {
                "a mark is misread, or turns are missing"
            },
        }
        example: r"scramble: D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2
solution: |
  x2 <0.00> L' F D L D L <0.10>
  R U' R' U2 L' U2 L2 U L' <2.40>
  R' U R y' L U L' F' U F <3.60>
  U' r' U' r R' U' R U r' U r <5.00>
  R U R' U' D R2 U' R U' R' U R' U R2 D' <7.00>",
        instead: r"scramble: D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2
solution: |
  x2 <0.00> L' F D L D L <1.00>
  R U' R' U2 L' U2 L2 U L' <2.40>
  R' U R y' L U L' F' U F <3.60>
  U' r' U' r R' U' R U r' U r <5.00>
  R U R' U' D R2 U' R U' R' U R' U R2 D' <7.00>",
    }
}
