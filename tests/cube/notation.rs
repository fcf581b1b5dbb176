//! What is read of turns as people write them, and what is said of it.

use cornerwise::cube::{Move, Moves};
use cornerwise::diagnostic::Source;
use cornerwise::notation::{self, Element, MAX_TOKENS, Options, Turns};
use cornerwise::report::diagnostics::one_line;

fn parse(text: &str) -> (Turns, Vec<String>) {
    let (turns, said) = notation::parse_all(text, &Options { fps: Some(60.0) });
    let source = Source::new("t", text);
    let said = said.iter().map(|diagnostic| one_line(&source, diagnostic)).collect();
    (turns, said)
}

/// Every text with what it is read as, and below it what is said.
fn table(texts: &[&str]) -> String {
    let mut table = String::new();
    for text in texts {
        let (turns, said) = parse(text);
        let printed = notation::print(&turns).replace('\n', "\\n");
        table += &format!("{text} => [{printed}]\n");
        for line in said {
            table += &format!("    {line}\n");
        }
    }
    table
}

#[track_caller]
fn moves(text: &str) -> Vec<Move> {
    let (turns, said) = parse(text);
    assert_eq!(said, Vec::<String>::new(), "{text}");
    assert!(turns.tokens.iter().all(|token| matches!(token.element, Element::Move(_))), "{text}");
    turns.playable().collect()
}

#[test]
fn every_move_reads_back() {
    for mv in Move::ALL {
        assert_eq!(moves(&mv.to_string()), [mv]);
    }
    assert_eq!(moves(&Moves::of(&Move::ALL).to_string()), Move::ALL);
}

/// WCA Regulations 12a2+ (Rw and 2Rw are the same move), 12a4 (rotations), common practice (r, M E S, 2', 3).
#[test]
fn ways_to_write_the_same_move() {
    for (ways, plain) in [
        ("2Rw r", "Rw Rw"),
        ("2Fw2 f2 2Fw2'", "Fw2 Fw2 Fw2"),
        ("R2' R2", "R2 R2"),
        ("R3 R3'", "R' R"),
        ("x2' y3 M3 u'", "x2 y' M' Uw'"),
        ("R\tU\r\nF\u{A0}D", "R U F D"),
    ] {
        assert_eq!(moves(ways), moves(plain), "{ways}");
    }
}

/// The metric examples are arithmetic from WCA Regulations 12a5 and 12a6; a slice as two turns and a rotation
/// is common practice, no source.
#[test]
fn lengths_in_the_two_metrics() {
    for (text, obtm, etm) in [
        ("R U R' U'", 4, Some(4)),
        ("x2 y R U2", 2, Some(4)),
        ("Rw U Rw' 2Fw2", 4, Some(4)),
        ("x y2 z'", 0, Some(3)),
        ("M' U M", 5, None),
    ] {
        let moves = moves(text);
        assert_eq!(moves.iter().map(|mv| mv.obtm()).sum::<usize>(), obtm, "{text}");
        if let Some(etm) = etm {
            assert_eq!(moves.iter().map(|mv| mv.etm()).sum::<usize>(), etm, "{text}");
        }
    }
}

#[test]
fn groups_are_multiplied_out() {
    for (text, plain) in [
        ("(R U)", "R U"),
        ("(R U)3", "R U R U R U"),
        ("(R U) 3", "R U R U R U"),
        ("(R U)x3", "R U R U R U"),
        ("(R U) x 3", "R U R U R U"),
        ("(R U)*3", "R U R U R U"),
        ("(R U) * 2", "R U R U"),
        ("(R U)×2", "R U R U"),
        ("(R U)1 F", "R U F"),
        ("((R U)2 F)2", "R U R U F R U R U F"),
        ("(R U)2(F)2", "R U R U F F"),
        ("(R U) 2Rw", "R U Rw"),
        ("(R U)\n2Rw", "R U Rw"),
        ("(R U) y2", "R U y2"),
        ("()9 R", "R"),
        ("(R U // words\n)2", "R U R U"),
    ] {
        assert_eq!(moves(text), moves(plain), "{text}");
    }
    let (turns, _) = parse("F (R U)2");
    assert_eq!(turns.tokens[1].span, turns.tokens[3].span);
}

#[test]
fn a_group_may_be_as_large_as_the_limit_and_no_larger() {
    assert_eq!(moves(&format!("(R){MAX_TOKENS}")).len(), MAX_TOKENS);
    assert_eq!(moves("((((R)10)10)10)10").len(), MAX_TOKENS);
    let nested = format!("{}R{}", "(".repeat(64), ")".repeat(64));
    assert_eq!(moves(&nested).len(), 1);
    for text in
        ["(R U)5001", "((((R)10)10)10)11", "(R)10000 (U)1", "(R U)999999999", "(R)99999999999999999999999"]
    {
        let (turns, said) = parse(text);
        assert!(said[0].contains("fault[tokens-too-many]"), "{text}: {said:?}");
        assert!(turns.tokens.len() <= MAX_TOKENS + 1);
    }
    // Doubling 64 times would be 2^64 tokens; every level is checked before it is made.
    let (turns, said) = parse(&format!("{}R{}", "(".repeat(64), ")2".repeat(64)));
    assert!(said[0].contains("fault[tokens-too-many]"), "{said:?}");
    assert!(turns.tokens.len() <= MAX_TOKENS + 64);
}

/// The first three are cue timestamps as the W3C's WebVTT defines them (hours may be left out, two digits of
/// minutes and seconds, three of milliseconds); the third stands in its examples.
#[test]
fn marks_give_the_time_of_a_moment() {
    let (turns, said) = parse("<00:03.420> R <00:00:03.420> U <00:01:14.815> F <75> <75.25> <4515f> D");
    assert_eq!(said, Vec::<String>::new());
    let seen: Vec<_> = turns.marks.iter().map(|mark| (mark.moment, mark.time.0, mark.frame)).collect();
    assert_eq!(
        seen,
        [
            (0, 3_420_000, None),
            (1, 3_420_000, None),
            (2, 74_815_000, None),
            (3, 75_000_000, None),
            (3, 75_250_000, None),
            (3, 75_250_000, Some(4515)),
        ]
    );
}

#[test]
fn comments_keep_their_words_and_their_moment() {
    let (turns, said) = parse("// first\nR U // 2nd pair, (R U)3 <\n# end");
    assert_eq!(said, Vec::<String>::new());
    let seen: Vec<_> = turns.comments.iter().map(|comment| (comment.moment, comment.text.as_str())).collect();
    assert_eq!(seen, [(0, "first"), (2, "2nd pair, (R U)3 <"), (2, "end")]);
}

#[test]
fn what_could_not_be_made_out_is_no_fault() {
    let (turns, said) = parse("R ? U ... F … D");
    assert_eq!(said, Vec::<String>::new());
    let elements: Vec<_> = turns.tokens.iter().map(|token| token.element).collect();
    assert_eq!(elements[1], Element::Unknown);
    assert_eq!([elements[3], elements[5]], [Element::Gap; 2]);
}

/// The odd tokens of WCA guideline E2c4+ (2024) and E2c6+ (2026) are among these.
#[test]
fn leniencies_are_notes() {
    insta::assert_snapshot!(table(&[
        "R’ U‘ F′ D` B´ Lʼ", "R'2 U’2", "UD'", "RUR'U'", "X Y2 Z'", "m e' s2", "rw RW uW2", "R'w R2w", "R1 Ui F²",
        "R ' U 2", "R, U. F - D | L · B; R", "“R U”", "[R U]2", "(R U F2)'", "(R U) x2 F", "(R U)x2' F", "(R U) x3",
        "R?", "<1:02.5> <63,5> < 64.0 > <65.5s> <4000 f>",
    ]), @r"
    R’ U‘ F′ D` B´ Lʼ => [R' U' F' D' B' L']
        t:1:1: note[prime-typographic]: not the plain prime, read as one, at 6 places (write `R'`)
    R'2 U’2 => [R2 U2]
        t:1:1: note[suffix-order]: the parts of the suffix are in an unusual order, at 2 places (write `R2`)
        t:1:5: note[prime-typographic]: not the plain prime, read as one (write `U2`)
    UD' => [U D']
        t:1:2: note[token-glued]: no space before the token (put a space between tokens: `U D'`)
    RUR'U' => [R U R' U']
        t:1:2: note[token-glued]: no space before the token, at 3 places (put a space between tokens: `U D'`)
    X Y2 Z' => [x y2 z']
        t:1:1: note[rotation-capital]: a capital rotation, read as the small letter, at 3 places (write `x`)
    m e' s2 => [M E' S2]
        t:1:1: note[slice-small]: a small slice letter, read as the capital, at 3 places (write `M`)
    rw RW uW2 => [Rw Rw Uw2]
        t:1:1: note[wide-case]: read as the wide turn, at 3 places (write `Rw`)
    R'w R2w => [Rw' Rw2]
        t:1:1: note[suffix-order]: the parts of the suffix are in an unusual order, at 2 places (write `Rw'`)
    R1 Ui F² => [R U' F2]
        t:1:1: note[suffix-unusual]: an unusual suffix, at 3 places (write `R`)
    R ' U 2 => [R' U2]
        t:1:1: note[suffix-apart]: a suffix apart from its turn, at 2 places (write `R'`)
    R, U. F - D | L · B; R => [R U F D L B R]
        t:1:2: note[separator-stray]: a sign between tokens that means nothing here, at 6 places (a space is enough between tokens)
    “R U” => [R U]
        t:1:1: note[separator-stray]: a sign between tokens that means nothing here, at 2 places (a space is enough between tokens)
    [R U]2 => [R U R U]
        t:1:1: note[bracket-square]: a square bracket, read as a round one (write `(` and `)`)
    (R U F2)' => [F2 U' R']
        t:1:9: note[group-prime]: a group with a prime, read as the group undone (write the turns out)
    (R U) x2 F => [R U x2 F]
        t:1:7: note[group-or-rotation]: read as a rotation, not as a count (for a group played twice write `)2`)
    (R U)x2' F => [R U x2 F]
    (R U) x3 => [R U R U R U]
        t:1:6: note[group-or-rotation]: read as a count, not as a rotation (write `)3` without blank and `x`)
    R? => [R ?]
        t:1:2: note[unknown-glued]: read as a token more that could not be made out (put a space before the `?`, or write `?` alone in place of a doubtful token)
    <1:02.5> <63,5> < 64.0 > <65.5s> <4000 f> => [<01:02.500> <01:03.500> <01:04.000> <01:05.500> <4000f>]
        t:1:1: note[mark-form]: an unusual way to write a time, at 5 places (read as 62.50 seconds; write `<62.50>`)
    ");
}

#[test]
fn what_cannot_be_read_is_a_fault_with_advice() {
    insta::assert_snapshot!(table(&[
        "R K U", "R4", "R''", "R22", "1R", "3Rw", "2U", "xw", "В' М", "Q'", "cross first R U", "R U OLL: F", "R .. U", "3(R U)",
        "R^2", "{R}", "(R U", "((R [U", "R U)", "R U)2 F", "(R)0", "[R, U]", "<3.4 R", "<> <x> <99:99.000>",
        "<999999999999999999999>", "<1000000h>", "<3.0> R <2.5> U <4.0>", "<9.00> R <1.40> U <2.31> F <3.00>",
        "(R <1.0> U)2", "2 R", "'",
    ]), @r"
    R K U => [R K U]
        t:1:3: fault[token-unknown]: expected a turn or rotation, found `K` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
    R4 => [R4]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `R4` (did you mean `R`, `R2` or `R'`?)
    R'' => [R'']
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `R''` (did you mean `R'` or `Rw'`?)
    R22 => [R22]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `R22` (did you mean `R2` or `Rw2`?)
    1R => [1R]
        t:1:1: fault[layer-invalid]: expected a turn, found `1R` (the only layer number on this cube is 2 before a wide turn: `2Rw`; for a half turn write `R2`)
    3Rw => [3Rw]
        t:1:1: fault[layer-invalid]: expected a turn, found `3Rw` (the only layer number on this cube is 2 before a wide turn: `2Rw`; for a half turn write `R2`)
    2U => [2U]
        t:1:1: fault[layer-invalid]: expected a turn, found `2U` (the only layer number on this cube is 2 before a wide turn: `2Rw`; for a half turn write `R2`)
    xw => [xw]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `xw` (did you mean `x`, `x2` or `x'`?)
    В' М => [В' М]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `В'` (did you mean `B'`?)
        t:1:4: fault[token-unknown]: expected a turn or rotation, found `М` (did you mean `M`?)
    Q' => [Q']
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `Q'` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
    cross first R U => [cross first R U]
        t:1:1: fault[words-not-turns]: expected turns, found `cross first` (if it is a remark, write `// cross first`)
    R U OLL: F => [R U OLL: F]
        t:1:5: fault[words-not-turns]: expected turns, found `OLL:` (if it is a remark, write `// OLL:`)
    R .. U => [R .. U]
        t:1:3: fault[token-unknown]: expected a turn or rotation, found `..` (write `...` where turns are missing, nothing between phrases)
    3(R U) => [3 R U]
        t:1:1: fault[count-invalid]: a count before its group (write the count behind the group: `(R U R' U')3`)
    R^2 => [R^2]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `R^2` (did you mean `R2` or `Rw2`?)
    {R} => [{ R }]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `{` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
        t:1:2: note[token-glued]: no space before the token (put a space between tokens: `U D'`)
        t:1:3: fault[token-unknown]: expected a turn or rotation, found `}` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
    (R U => [R U]
        t:1:1: fault[bracket-unclosed]: an opening bracket that is never closed (put `)` where the group ends, or take the bracket away)
    ((R [U => [R U]
        t:1:1: fault[bracket-unclosed]: an opening bracket that is never closed, at 3 places (put `)` where the group ends, or take the bracket away)
        t:1:5: note[bracket-square]: a square bracket, read as a round one (write `(` and `)`)
    R U) => [R U]
        t:1:4: fault[bracket-unopened]: a closing bracket without an opening one (take it away, or put `(` where the group begins)
    R U)2 F => [R U 2 F]
        t:1:4: fault[bracket-unopened]: a closing bracket without an opening one (take it away, or put `(` where the group begins)
    (R)0 => [R 0]
        t:1:4: fault[count-invalid]: expected a count of 1 or more (a group that is not played is a remark: `// (R U)`)
    [R, U] => [R , U]
        t:1:1: note[bracket-square]: a square bracket, read as a round one (write `(` and `)`)
        t:1:3: fault[commutator]: expected plain turns, found a commutator (write `[A, B]` out as A B A' B')
    <3.4 R => [R]
        t:1:1: fault[mark-unclosed]: expected `>` after the time (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
    <> <x> <99:99.000> => []
        t:1:1: fault[mark-invalid]: expected a time or a video frame (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
        t:1:4: fault[mark-invalid]: expected a time or a video frame (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
        t:1:8: fault[mark-invalid]: expected minutes and seconds up to 59 (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
    <999999999999999999999> => []
        t:1:1: fault[mark-invalid]: expected a time under 100 hours (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
    <1000000h> => []
        t:1:1: fault[mark-invalid]: expected a time or a video frame (a timing mark is `<3.42>`, `<00:03.420>` or `<205f>`)
    <3.0> R <2.5> U <4.0> => [<3.00> R U <4.00>]
        t:1:9: fault[mark-backwards]: expected marks that never run backwards (one of the two times is mistyped, or the marks are in the wrong order)
    <9.00> R <1.40> U <2.31> F <3.00> => [R <1.40> U <2.31> F <3.00>]
        t:1:1: fault[mark-backwards]: expected marks that never run backwards (one of the two times is mistyped, or the marks are in the wrong order)
    (R <1.0> U)2 => [R U R U]
        t:1:4: fault[mark-in-group]: a timing mark inside a group that repeats (put the mark before or behind the group, or write the turns out)
    2 R => [2 R]
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `2` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
    ' => [']
        t:1:1: fault[token-unknown]: expected a turn or rotation, found `'` (turns are U D F B R L, wide Uw or u, M E S; rotations x y z)
    ");
}

#[test]
fn a_frame_needs_frames_a_second() {
    let (turns, said) = notation::parse_all("R <205f> U <999f>", &Options::default());
    assert_eq!(turns.marks, []);
    assert_eq!(said.len(), 1);
    assert_eq!((said[0].code, said[0].labels.len()), ("mark-needs-fps", 2));
}

#[test]
fn brackets_nest_to_a_limit_without_harm() {
    let (_, said) = parse(&format!("{}R{}", "(".repeat(65), ")".repeat(65)));
    assert_eq!(said.len(), 1);
    assert!(said[0].starts_with("t:1:65: fault[bracket-too-deep]"), "{said:?}");
    let (_, said) = parse(&"(".repeat(100_000));
    assert_eq!(said.len(), 2);
    let (_, said) = parse(&")".repeat(100_000));
    assert_eq!(said.len(), 101);
    assert!(said[100].contains("fault[faults-too-many]: 99900 more"), "{}", said[100]);
}

/// Glued tokens are counted like any others.
#[test]
fn the_limit_holds_without_blanks() {
    for text in [
        "R'".repeat(400_000),
        "RU".repeat(10_000),
        "4".repeat(10) + &"Q’".repeat(200_000),
        ">".repeat(400_000),
    ] {
        let (turns, said) = notation::parse_all(&text, &Options::default());
        assert_eq!(turns.tokens.len(), MAX_TOKENS);
        assert_eq!(said.iter().filter(|said| said.code == "tokens-too-many").count(), 1);
    }
    let (turns, said) = notation::parse_all(&"RU".repeat(MAX_TOKENS / 2), &Options::default());
    assert_eq!((turns.tokens.len(), said.len(), said[0].code), (MAX_TOKENS, 1, "token-glued"));
}

/// However much is wrong, a hundred faults are made and the others are counted. (`cargo bench --bench read`
/// has the times.)
#[test]
fn more_of_the_same_is_only_counted() {
    for piece in
        ["‹", "<1", ">", "<>", "<a ", "<9999h>", ") ", "(R)0 ", "(<1.0>)2", "K ", "two words\n", ".. "]
    {
        let told = |n: usize| notation::parse_all(&piece.repeat(n), &Options::default()).1.len();
        assert!(told(1_000) <= 105, "{piece}: {}", told(1_000));
        assert_eq!(told(1_000), told(2_000), "{piece}");
    }
    let marks: String = (0..5_000).rev().map(|second| format!("<{second}>")).collect();
    let (turns, said) = notation::parse_all(&marks, &Options::default());
    assert_eq!((turns.marks.len(), said.len()), (1, 101));
    assert!(said[100].message.starts_with("4899 more"), "{}", said[100].message);
}

/// Labels, numbers and counts as people paste them (common practice, no source); and what only looks like one.
#[test]
fn what_people_put_around_a_line_is_read() {
    for (text, read, codes) in [
        ("Cross: U' L2", "// Cross\nU' L2", &["label-comment"][..]),
        ("x2 y\n1st pair (blue-red): U R", "x2 y\n// 1st pair (blue-red)\nU R", &["label-comment"]),
        ("F2L 1: R\nF2L: U\nLL: F\nBR: D", "// F2L 1\nR\n// F2L\nU\n// LL\nF\n// BR\nD", &["label-comment"]),
        ("x-cross: R\nred/green pair: U", "// x-cross\nR\n// red/green pair\nU", &["label-comment"]),
        ("OLL:\nR U", "// OLL\nR U", &["label-comment"]),
        ("  12. Cross: R", "// Cross\nR", &["line-number", "label-comment"]),
        ("1) R U\n2) F\n3: D", "R U\nF\nD", &["line-number"]),
        (
            "R U (6)\nF ( 12/24 ) // two\nD (3 moves)",
            "R U // (6)\nF // ( 12/24 )\n// two\nD // (3 moves)",
            &["count-comment"],
        ),
        ("(R U\n2) F", "R U\n2 F", &["token-unknown"]),
    ] {
        let (turns, said) = notation::parse_all(text, &Options::default());
        let found: Vec<_> = said.iter().map(|said| said.code).collect();
        assert_eq!(notation::print(&turns), read, "{text}");
        assert_eq!(found, codes, "{text}");
    }
    // Turns before a colon are somebody's conjugate, not a label: none of them may vanish.
    for text in ["R U: F", "(R U): F", "R: U", "x: R", "R U R' U': F", "FR BR U: F", "[R: U]", "R-U: F"] {
        let (turns, said) = notation::parse_all(text, &Options::default());
        assert!(said.iter().any(cornerwise::diagnostic::Diagnostic::is_fault), "{text}: {said:?}");
        assert_eq!(turns.comments, [], "{text}");
    }
}
