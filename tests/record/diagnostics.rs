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

/// Two places far apart are drawn one after the other, not with everything between.
#[test]
fn places_far_apart_are_two_excerpts() {
    let text = format!("R\n\n<9.00>\n{}<1.00> U <1.50>", "R U R' U'\n".repeat(2_000));
    insta::assert_snapshot!(drawn(&text), @r"
    fault[mark-backwards]: expected marks that never run backwards
        --> quay.yaml:3:1
         |
       3 | <9.00>
         | ^^^^^^ 9.00 s
         |
        ::: quay.yaml:2004:1
         |
    2004 | <1.00> U <1.50>
         | ------ 1.00 s is earlier
         |
         = help: one of the two times is mistyped, or the marks are in the wrong
                 order
    ");
}

/// On one line as long as a book neither place can harm the other.
#[test]
fn places_far_apart_on_one_line_are_two_excerpts() {
    for (first, second) in [("<1.00> <1.50>", "<9.00> <0.50>"), ("<9.00>", "<1.00> U <1.50>")] {
        let text = format!("R\n\n{first} R{}U {second}", " ".repeat(70_000));
        let drawn = drawn(&text);
        assert!(drawn.contains("mark-backwards") && drawn.contains("9.00 s"), "{drawn}");
        assert!(drawn.lines().all(|line| line.chars().count() <= 80), "{drawn}");
    }
}

/// The obvious way: count.
#[test]
fn lines_and_columns_are_counted_from_one() {
    let text = "\u{FEFF}R é\n\n  日U\nF";
    let source = Source::new("x", text);
    for (at, _) in text.char_indices().chain([(text.len(), ' ')]) {
        let before = text[..at].trim_start_matches('\u{FEFF}');
        let line = before.split('\n').count();
        let column = 1 + before.split('\n').next_back().map_or(0, |line| line.chars().count());
        assert_eq!(source.position(at), (line, column), "{at}");
    }
    assert_eq!(source.position(1_000), source.position(text.len()));
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
