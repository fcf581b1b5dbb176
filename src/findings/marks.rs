//! Messages about timing marks.

use super::findings;

findings! {
    "Timing marks";

    /// What is between `<` and `>` is neither a time nor a frame, or is longer than 100 hours.
    Fault "mark-invalid" {
        fn mark_invalid(expected: &str) {
            message: expected,
            help: "a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`",
        }
        example: r"scramble: R2 U F2
solution: <start> F2 U' R2",
        instead: r"scramble: R2 U F2
solution: <0.00> F2 U' R2",
    }

    /// A timing mark has no `>`.
    Fault "mark-unclosed" {
        fn mark_unclosed() {
            message: "expected `>` after the time",
            help: "a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`",
        }
        example: r"scramble: R2 U F2
solution: <0.00 F2 U' R2",
        instead: r"scramble: R2 U F2
solution: <0.00> F2 U' R2",
    }

    /// A time in a form that is not one of the three: with a comma, with a unit, `1:02.5`.
    Note "mark-form" {
        fn mark_form(time: &str) {
            message: "an unusual way to write a time",
            help: format!("read as {time} seconds; write `<{time}>`"),
        }
        fn mark_form_frame(frame: u64) {
            message: "an unusual way to write a time",
            help: format!("write `<{frame}f>`"),
        }
        example: r"scramble: R2 U F2
solution: <0,00> F2 U' R2 <1:02.5>",
        instead: r"scramble: R2 U F2
solution: <0.00> F2 U' R2 <01:02.500>",
    }

    /// The clock runs backwards. The fewest marks that have to be wrong are left out.
    Fault "mark-backwards" {
        /// `later`: the other mark, which stands before this one, shows a later time; else one behind it shows an earlier.
        fn mark_backwards(time: &str, other: &str, later: bool) {
            message: "expected marks that never run backwards",
            label: format!("{time} s"),
            second: format!("{other} s is {}", if later { "later" } else { "earlier" }),
            help: "one of the two times is mistyped, or the marks are in the wrong order",
        }
        example: r"scramble: R2 U F2
solution: <1.00> F2 U' <0.40> R2 <2.00>",
        instead: r"scramble: R2 U F2
solution: <1.00> F2 U' <1.40> R2 <2.00>",
    }

    /// A mark gives a video frame, and the record does not say how many there are in a second.
    Fault "mark-needs-fps" {
        fn mark_needs_fps() {
            message: "a time in video frames, but no `fps` in the record",
            help: "add a line such as `fps: 60`, the frames a second of the video",
        }
        example: r"scramble: R2 U F2
solution: <0f> F2 U' R2 <90f>",
        instead: r"scramble: R2 U F2
solution: <0f> F2 U' R2 <90f>
fps: 60",
    }

    /// A timing mark stands in the scramble. It is kept, and nothing comes of it.
    Note "mark-in-scramble" {
        fn mark_in_scramble() {
            message: "a timing mark in the scramble is not used",
            help: "the clock runs from the first turn of the solution; put marks there",
        }
        example: r"scramble: R2 <1.00> U F2
solution: F2 U' R2",
        instead: r"scramble: R2 U F2
solution: <1.00> F2 U' R2",
    }

    /// A mark stands inside a group that is played more than once: it cannot be both times.
    Fault "mark-in-group" {
        fn mark_in_group() {
            message: "a timing mark inside a group that repeats",
            help: "put the mark before or behind the group, or write the turns out",
        }
        example: r"scramble: R2 U F2
solution: (F2 <1.00> U')2 R2",
        instead: r"scramble: R2 U F2
solution: (F2 U')2 <1.00> R2",
    }

    /// `clock` puts marks into a record that has some: those give way.
    Note "marks-replaced" {
        fn marks_replaced(n: usize) {
            message: match n {
                1 => "the timing mark that is here gives way to the new ones".to_owned(),
                n => format!("the {n} timing marks from here on give way to the new ones"),
            },
            help: "nothing is written without `w` or `--write`, and then the old text stays beside the file",
        }
        example: r"scramble: R2 U F2
solution: <0.00> F2 U' R2 <0.90>",
        instead: r"scramble: R2 U F2
solution: F2 U' R2",
    }
}
