//! What a person reads, at several widths, with and without colour.

use cornerwise::diff::{self, Comparison};
use cornerwise::report;
use cornerwise::report::look::{Look, Palette, columns};
use cornerwise::story::Told;

use super::sides::{File, compare, texts, two_solves};
use crate::support::solver::{Marks, Rng, Solver, Style};

fn look(width: usize, coloured: bool) -> Look {
    let palette = if coloured { Palette::coloured() } else { Palette::default() };
    Look { width, palette, ..Look::plain() }
}

fn text(comparison: &Comparison, width: usize, coloured: bool) -> String {
    // Escapes are shown by the picture Unicode has for them, so that a snapshot can be read.
    report::diff::render(comparison, Told::Whole, &look(width, coloured)).replace('\u{1b}', "␛")
}

#[test]
fn a_fork_at_60_columns() {
    insta::assert_snapshot!(text(&File::kept("fork-after-first-pair").compared(), 60, false));
}

#[test]
fn a_fork_at_80_columns() {
    insta::assert_snapshot!(text(&File::kept("fork-after-first-pair").compared(), 80, false));
}

#[test]
fn a_fork_at_120_columns() {
    insta::assert_snapshot!(text(&File::kept("fork-after-first-pair").compared(), 120, false));
}

#[test]
fn a_fork_at_80_columns_in_colour() {
    insta::assert_snapshot!(text(&File::kept("fork-after-first-pair").compared(), 80, true));
}

#[test]
fn a_fork_at_120_columns_in_colour() {
    insta::assert_snapshot!(text(&File::kept("fork-after-first-pair").compared(), 120, true));
}

#[test]
fn two_crosses_at_120_columns() {
    insta::assert_snapshot!(text(&File::kept("two-crosses").compared(), 120, false));
}

#[test]
fn a_meeting_at_80_columns() {
    insta::assert_snapshot!(text(&File::kept("meets-again").compared(), 80, false));
}

#[test]
fn no_difference() {
    let file = File::kept("meets-again");
    insta::assert_snapshot!(text(&compare(file.entry(0), file.entry(0)), 80, false));
}

#[test]
fn without_times_and_not_cross_first() {
    insta::assert_snapshot!(text(&texts("R U F\n\nF' U' R'\n", "R U F\n\nF' U' U' U R'\n"), 80, false));
}

#[test]
fn the_best_of_each_step() {
    let file = File::kept("fork-after-first-pair");
    let facts = [&file.facts[0], &file.facts[1], &file.facts[0], &file.facts[1], &file.facts[1]];
    let names: Vec<String> = "ABCDE".chars().map(String::from).collect();
    let best = diff::best_steps(&names, &facts);
    insta::assert_snapshot!(report::diff::best(&best, &look(80, false)));
}

/// Colour takes nothing away and adds nothing: without its escapes it is the plain text.
#[test]
fn no_line_is_wider_than_asked_and_colour_carries_no_meaning_alone() {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(81));
    let mut comparisons: Vec<Comparison> = ["fork-after-first-pair", "two-crosses", "meets-again"]
        .into_iter()
        .map(|name| File::kept(name).compared())
        .collect();
    for n in 0..30 {
        let (one, other) = two_solves(&mut solver, &mut rng, n);
        let marks = [Marks::None, Marks::Ends, Marks::Both, Marks::Every][n % 4];
        let style = Style { marks, pace: 4.0, stops: 0.5, ..Style::default() };
        let (a, b) = (one.yaml("made", &style, &mut rng), other.yaml("made", &style, &mut rng));
        comparisons.push(texts(&a, &b));
    }
    for comparison in &comparisons {
        for width in [60, 80, 100, 120, 200] {
            let plain = report::diff::render(comparison, Told::Whole, &look(width, false));
            for line in plain.lines() {
                assert!(columns(line) <= width, "{width} columns: {line}");
                assert_eq!(line.trim_end(), line);
            }
            let coloured = report::diff::render(comparison, Told::Whole, &look(width, true));
            let stripped: String = anstream::adapter::strip_str(&coloured).collect();
            let trimmed = |text: &str| text.lines().map(str::trim_end).collect::<Vec<_>>().join("\n");
            assert_eq!(trimmed(&stripped), trimmed(&plain));
            let ascii =
                report::diff::render(comparison, Told::Whole, &Look { unicode: false, ..look(width, false) });
            assert!(ascii.is_ascii(), "{ascii}");
        }
    }
}
