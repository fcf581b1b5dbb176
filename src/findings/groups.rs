//! Messages about brackets and counts.

use super::findings;

findings! {
    "Groups";

    /// An opening bracket has no partner. The turns behind it are read as if it were not there.
    Fault "bracket-unclosed" {
        fn bracket_unclosed() {
            message: "an opening bracket that is never closed",
            help: "put `)` where the group ends, or take the bracket away",
        }
        example: r"scramble: R2 U F2
solution: (F2 U' R2",
        instead: r"scramble: R2 U F2
solution: (F2 U') R2",
    }

    /// A closing bracket has no partner. If a count follows, the solve is played no further, because nobody can
    /// tell what is to be repeated.
    Fault "bracket-unopened" {
        fn bracket_unopened() {
            message: "a closing bracket without an opening one",
            help: "take it away, or put `(` where the group begins",
        }
        example: r"scramble: R2 U F2
solution: F2 U') R2",
        instead: r"scramble: R2 U F2
solution: (F2 U') R2",
    }

    /// Groups nest at most 64 deep.
    Fault "bracket-too-deep" {
        fn bracket_too_deep(most: usize) {
            message: format!("expected groups at most {most} deep"),
            help: "this bracket and those inside it are passed over",
        }
        example: r"scramble: R2 U F2
solution: (((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((R)))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))))",
        instead: r"scramble: R2 U F2
solution: (R)",
    }

    /// Square brackets are read as round ones.
    Note "bracket-square" {
        fn bracket_square() {
            message: "a square bracket, read as a round one",
            help: "write `(` and `)`",
        }
        example: r"R2 U F2

[F2 U']2 R2",
        instead: r"R2 U F2

(F2 U')2 R2",
    }

    /// A count of 0, or a count before its group.
    Fault "count-invalid" {
        fn count_invalid() {
            message: "expected a count of 1 or more",
            help: "a group that is not played is a remark: `// (R U)`",
        }
        fn count_before_group() {
            message: "a count before its group",
            help: "write the count behind the group: `(R U R' U')3`",
        }
        example: r"scramble: R2 U F2
solution: (F2 U')0 R2",
        instead: r"scramble: R2 U F2
solution: (F2 U')2 R2",
    }

    /// `) x2` is read as a group and then a rotation; `) x3` as a group played three times, because nobody
    /// writes `x3` for `x'`.
    Note "group-or-rotation" {
        fn group_as_rotation() {
            message: "read as a rotation, not as a count",
            help: "for a group played twice write `)2`",
        }
        fn group_as_count(count: u64) {
            message: "read as a count, not as a rotation",
            help: format!("write `){count}` without blank and `x`"),
        }
        example: r"scramble: R2 U F2
solution: (F2 U') x2 R2",
        instead: r"scramble: R2 U F2
solution: (F2 U')2 R2",
    }

    /// A group with a prime is read as the group undone: backwards, every turn the other way.
    Note "group-prime" {
        fn group_prime() {
            message: "a group with a prime, read as the group undone",
            help: "write the turns out",
        }
        example: r"scramble: R2 U F2
solution: (F2 U')' R2",
        instead: r"scramble: R2 U F2
solution: U F2 R2",
    }
}
