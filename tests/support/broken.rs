//! A record with one slip: every token is legal, but a prime is missing, and the end is not solved.

/// One lost prime in the second pair, and comments of the writer's own, which nobody may lose.
pub const BROKEN: &str = "\
# quay practice, invented
title: Quay practice, with a slip
scramble: D L U F' B' U2 B2 D2 U B2 L' D' B U R' F2 L2 D' B L2
solution: |
  x2
  L' F D L D L                            // cross
  R U' R'                                 // 1st pair
  U2 L' U2 L2 U L                         // 2nd pair
  R' U R y' L U L'                        // 3rd pair
  F' U F                                  // 4th pair
  U' r' U' r R' U' R U r' U r             // OLL 15
  R U R' U' D R2 U' R U' R' U R' U R2 D'  // PLL Gd
time: 14.20   # by hand
";

/// A text that holds [`BROKEN`], as it is when that is mended in place.
pub fn mended(text: &str) -> String {
    text.replacen("L2 U L  ", "L2 U L'  ", 1)
}
