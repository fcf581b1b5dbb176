//! What a person sees of a fault: the line, the caret, the help; in 80 columns and without colour.

use cornerwise::diagnostic::{Diagnostic, Source, Span};
use cornerwise::record;
use cornerwise::report::diagnostics::{draw, one_line};
use cornerwise::report::look::{Look, Palette};

fn drawn(text: &str) -> String {
    let source = Source::new("quay.yaml", text);
    let reading = record::read(&source);
    draw(&source, &reading.all_diagnostics().cloned().collect::<Vec<_>>(), &Look::plain())
}

#[test]
fn a_caret_stands_under_the_token() {
    insta::assert_snapshot!(drawn("scramble: R2 U F2\nsolution: |\n  <3.00> F2 日 Q’ R' <2.50> U\n"), @r"
    fault[token-unknown]: expected a turn or rotation, found `日`
     --> quay.yaml:3:13
      |
    3 |   <3.00> F2 日 Q’ R' <2.50> U
      |             ^^
      |
      = help: turns are U D F B R L, wide Uw or u, M E S; rotations x y z

    fault[token-unknown]: expected a turn or rotation, found `Q’`
     --> quay.yaml:3:15
      |
    3 |   <3.00> F2 日 Q’ R' <2.50> U
      |                ^^
      |
      = help: turns are U D F B R L, wide Uw or u, M E S; rotations x y z

    fault[mark-backwards]: expected marks that never run backwards
     --> quay.yaml:3:21
      |
    3 |   <3.00> F2 日 Q’ R' <2.50> U
      |   ------             ^^^^^^ 2.50 s
      |   |
      |   3.00 s is later
      |
      = help: one of the two times is mistyped, or the marks are in the wrong order
    ");
}

#[test]
fn several_places_are_counted_and_the_first_are_shown() {
    insta::assert_snapshot!(drawn("R’ U’ F’ D’\n\nR"), @r"
    note[prime-typographic]: not the plain prime, read as one, at 4 places
     --> quay.yaml:1:1
      |
    1 | R’ U’ F’ D’
      | ^^ -- --
      |
      = help: write `R'`
    ");
}

#[test]
fn a_long_line_is_shown_around_the_caret() {
    let text = format!("R\n\n{}K {}", "R U ".repeat(20_000), "R U ".repeat(20_000));
    let drawn = drawn(&text.replace("R U ", "    "));
    assert!(drawn.lines().all(|line| line.chars().count() <= 80), "{drawn}");
    assert!(drawn.contains("quay.yaml:3:80001"), "{drawn}");
    assert!(drawn.contains('^'), "{drawn}");
}

#[test]
fn colour_adds_escapes_and_nothing_else() {
    let source = Source::new("x", "R Q\n\nU");
    let said = record::read(&source).records.remove(0).diagnostics;
    let plain = draw(&source, &said, &Look::plain());
    let styled = draw(&source, &said, &Look { palette: Palette::coloured(), ..Look::plain() });
    assert!(!plain.contains('\u{1B}') && styled.contains('\u{1B}'));
    assert_eq!(anstream::adapter::strip_str(&styled).to_string(), plain);
}

/// Spans beyond the text, reversed or inside a character are moved onto it.
#[test]
fn no_span_can_do_harm() {
    let source = Source::new("x", "é’🧊\nü");
    for start in 0..20 {
        for end in 0..20 {
            let fault = Diagnostic::fault("token-unknown", Span::new(start, end), "message")
                .also(Span::new(end, start), "");
            assert!(draw(&source, std::slice::from_ref(&fault), &Look::plain()).contains("message"));
            assert!(one_line(&source, &fault).starts_with("x:"));
        }
    }
}

#[test]
fn a_terminal_cannot_be_steered_by_a_file() {
    let source = Source::new("a\u{1B}[31m", "R\n\n\u{1B}]0;title\u{7} \u{9B}31m");
    let said = record::read(&source).records.remove(0).diagnostics;
    assert!(!said.is_empty());
    for fault in &said {
        assert!(!one_line(&source, fault).chars().any(char::is_control));
    }
    let drawn = draw(&source, &said, &Look::plain());
    assert!(!drawn.chars().any(|c| c.is_control() && c != '\n'), "{drawn:?}");
}
