//! Files as people keep them: what is read, and what is said of what is not.

use cornerwise::annotate::{self, Settings};
use cornerwise::cube::{Face, FaceSet, Moves};
use cornerwise::diagnostic::{Source, Span};
use cornerwise::notation::Turns;
use cornerwise::record::{self, DEFAULT_SIGHT, Options, Reading, Record, Style};
use cornerwise::report::diagnostics::one_line;
use cornerwise::study::Study;

fn read(text: &str) -> Reading {
    record::read(&Source::new("t", text))
}

fn said(source: &Source, reading: &Reading) -> Vec<String> {
    reading.all_diagnostics().map(|diagnostic| one_line(source, diagnostic)).collect()
}

fn moves(turns: &Turns) -> String {
    Moves::of(&turns.playable().collect::<Vec<_>>()).to_string()
}

/// The only record of a text of which there is nothing to be said.
#[track_caller]
fn clean(text: &str) -> Record {
    let source = Source::new("t", text);
    let mut reading = record::read(&source);
    assert_eq!(said(&source, &reading), Vec::<String>::new(), "{text}");
    assert_eq!(reading.records.len(), 1, "{text}");
    reading.records.remove(0)
}

/// What is read of each file, and below it what is said.
fn table(files: &[&[u8]]) -> String {
    let mut table = String::new();
    for bytes in files {
        let shown: String = String::from_utf8_lossy(bytes).chars().take(60).collect();
        table += &format!("{}\n", shown.replace('\n', "\\n").replace(char::is_control, "·"));
        match Source::from_bytes("t", bytes.to_vec()) {
            Err(diagnostic) => table += &format!("    {}\n", one_line(&Source::new("t", ""), &diagnostic)),
            Ok(source) => {
                let reading = record::read(&source);
                for record in &reading.records {
                    table += &format!("    [{}] [{}]\n", moves(&record.scramble), moves(&record.solution));
                }
                for line in said(&source, &reading) {
                    table += &format!("    {line}\n");
                }
            }
        }
    }
    table
}

#[test]
fn every_field_is_read() {
    let text = "\
# Invented for this test.
title: Quay practice, third of five
solver: me                # a label, free text
date: 2026-05-02
scramble: R2 U F2 D'
solution: |
  x2 y                    // anything after // or # is the writer's comment
  <0.00> R' D' <60f>
sight: UFRL
fps: 59.94
time: 1:09.84
notes: |
  two lines,
    one of them indented
";
    let record = clean(text);
    assert_eq!(record.title.as_deref(), Some("Quay practice, third of five"));
    assert_eq!(record.solver.as_deref(), Some("me"));
    assert_eq!(record.date.as_deref(), Some("2026-05-02"));
    assert_eq!(moves(&record.scramble), "R2 U F2 D'");
    assert_eq!(moves(&record.solution), "x2 y R' D'");
    assert_eq!(record.solution.comments[0].text, "anything after // or # is the writer's comment");
    assert_eq!(record.solution.marks[1].time.0, 1_001_001);
    assert_eq!(record.sight, FaceSet::of(&[Face::U, Face::F, Face::R, Face::L]));
    assert_eq!(record.sight_given.map(|span| &text[span.range()]), Some("UFRL"));
    assert_eq!(record.fps, Some(59.94));
    let (time, place) = record.time.expect("given");
    assert_eq!((time.seconds(), &text[place.range()]), (69.84, "1:09.84"));
    assert_eq!(record.notes.as_deref(), Some("two lines,\n  one of them indented"));
    assert_eq!(record.remarks, ["Invented for this test.", "a label, free text"]);
    assert_eq!((record.scramble_style, record.solution_style), (Style::Plain, Style::Literal));
}

#[test]
fn sight_is_up_front_right_unless_given() {
    let record = clean("R U\n\nF");
    assert_eq!((record.sight, record.sight_given), (DEFAULT_SIGHT, None));
    assert_eq!(DEFAULT_SIGHT.to_string(), "UFR");
}

/// In every style of YAML each token's span is where the token was written.
#[test]
fn places_are_exact_in_every_style() {
    for (value, style) in [
        ("R' U2 F' // x", Style::Plain),
        ("R' U2\n  F'", Style::Plain),
        ("'R'' U2 F'''", Style::SingleQuoted),
        ("'R'' U2\n\n  F'''", Style::SingleQuoted),
        ("\"R' U2 F'\"", Style::DoubleQuoted),
        ("\"R' \\x552\\n F'\"", Style::DoubleQuoted),
        ("\"R' U2 \\\n   F'\"", Style::DoubleQuoted),
        ("|\n  R' // words\n  U2 F'", Style::Literal),
        ("|4-\n    R'\n\n    U2 F'", Style::Literal),
        ("| # words\n   R'\n     U2 F'\n\n", Style::Literal),
        (">\n  R' // words\n  U2\n  F'", Style::Folded),
        ("!!str R' U2 F'", Style::Plain),
        ("&name R' U2 F'", Style::Plain),
    ] {
        for (begin, end) in
            [("title: é’\n", "\ntime: 9.84"), ("\u{FEFF}--- # next\r\n", ""), ("{\"title\": 'x', ", "}")]
        {
            if begin.starts_with('{') && (value.contains(['|', '>']) || value.contains("//")) {
                continue;
            }
            let text = if begin.starts_with('{') {
                format!("{begin}scramble: D, solution: {value}{end}")
            } else {
                format!("{begin}scramble: D\nsolution: {value}{end}")
            };
            let record = clean(&text);
            assert_eq!(moves(&record.solution), "R' U2 F'", "{text}");
            assert_eq!(record.solution_style, style, "{text}");
            let written: Vec<_> =
                record.solution.tokens.iter().map(|token| &text[token.span.range()]).collect();
            let expected: &[&str] = match style {
                Style::SingleQuoted => &["R''", "U2", "F''"],
                _ if value.contains("\\x55") => &["R'", "\\x552", "F'"],
                _ => &["R'", "U2", "F'"],
            };
            assert_eq!(written, expected, "{text}");
        }
    }
}

#[test]
fn one_fault_does_not_lose_the_other_records() {
    let text = "scramble: R\nsolution: U\n---\nscramble: 'R U R''\nsolution: F\n---\nsolution: [\n---\n# of the last\n---\nD\n\nL\n";
    let reading = read(text);
    let seen: Vec<_> =
        reading.records.iter().map(|record| (moves(&record.scramble), moves(&record.solution))).collect();
    let expected = [("R", "U"), ("R U R'", "F"), ("", ""), ("D", "L")];
    assert_eq!(seen, expected.map(|(scramble, solution)| (scramble.to_string(), solution.to_string())));
    assert_eq!(reading.records.iter().map(Record::has_fault).collect::<Vec<_>>(), [false, true, true, false]);
    assert_eq!(reading.records[3].remarks, ["of the last"]);
}

#[test]
fn strict_makes_notes_faults() {
    let source = Source::new("t", "R’ U\n\nF");
    assert!(!record::read(&source).has_fault());
    assert!(record::read_with(&source, &Options { strict: true }).has_fault());
}

#[test]
fn limits_are_faults() {
    let many = "R\n\nU\n---\n".repeat(10_001);
    let reading = read(&many);
    assert_eq!(reading.records.len(), 10_000);
    assert_eq!(reading.diagnostics[0].code, "records-too-many");
    assert_eq!(reading.diagnostics[0].span(), Some(Span::new(90_000, 90_001)));
    let large = "R U R' U' ".repeat(200_000);
    assert_eq!(read(&large).diagnostics[0].code, "file-too-large");
    assert_eq!(Source::from_bytes("t", large.into_bytes()).expect_err("2 MB").code, "file-too-large");
}

#[test]
fn bad_files_are_told_what_is_wrong() {
    let brackets = "(".repeat(100_000);
    let yaml_brackets = format!("solution: {}", "[".repeat(100_000));
    let large = vec![b'R'; 2_000_000];
    insta::assert_snapshot!(table(&[
        b"", b"  \n\n", b"# only words\n", b"\xEF\xBB\xBF", b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR", b"R\x92 U\n\nF", b"\xFF\xFER\0U\0",
        &large, b"R U F", b"R U F\n\n", b"scramble: R U F", b"solution: R U F", b"scramble:\nsolution: // nothing yet\n",
        brackets.as_bytes(), yaml_brackets.as_bytes(), b"R U F\n\n(R U)999999999 F", b"R U F\nD L",
        b"R U\n\n<3.0> F <2.0> D", b"scramble: R\nsolution: F <999f>", b"scramble: not legal text\nsolution: F",
    ]), @r"

        t:1:1: fault[file-empty]: expected a record, found nothing (write the scramble, a blank line, and the solution)
      \n\n
        t:1:1: fault[file-empty]: expected a record, found nothing (write the scramble, a blank line, and the solution)
    # only words\n
        t:1:1: fault[file-empty]: expected a record, found nothing (write the scramble, a blank line, and the solution)
    ﻿
        t:1:1: fault[file-empty]: expected a record, found nothing (write the scramble, a blank line, and the solution)
    �PNG·\n·\n····IHDR
        t: fault[file-not-text]: expected text, found a NUL byte at offset 8 (this looks like a picture, a video or a program, not a record)
    R� U\n\nF
        t: fault[file-not-text]: expected UTF-8, found byte 0x92 in line 1 (probably a curly prime; write ' or save the file with encoding UTF-8)
    ��R·U·
        t: fault[file-not-text]: expected UTF-8, found UTF-16 (save the file again with encoding UTF-8)
    RRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRRR
        t: fault[file-too-large]: expected at most 1048576 bytes (1 MiB), found 2000000 (split the file; a record is a few hundred bytes)
    R U F
        [R U F] []
        t:1:1: fault[solution-missing]: expected a solution, found none (put a blank line behind the scramble and write the solution below it)
    R U F\n\n
        [R U F] []
        t:1:1: fault[solution-missing]: expected a solution, found none (put a blank line behind the scramble and write the solution below it)
    scramble: R U F
        [R U F] []
        t:1:1: fault[solution-missing]: expected a solution, found none (add `solution: |` and the turns below it, indented by two blanks)
    solution: R U F
        [] [R U F]
        t:1:1: fault[scramble-missing]: expected a scramble, found none (add the line `scramble: R2 U F2 …`)
    scramble:\nsolution: // nothing yet\n
        [] []
        t:1:1: fault[scramble-missing]: expected a scramble, found none (add the line `scramble: R2 U F2 …`)
        t:2:1: fault[solution-missing]: expected a solution, found none (add `solution: |` and the turns below it, indented by two blanks)
    ((((((((((((((((((((((((((((((((((((((((((((((((((((((((((((
        [] []
        t:1:1: fault[bracket-unclosed]: an opening bracket that is never closed, at 64 places (put `)` where the group ends, or take the bracket away)
        t:1:1: fault[scramble-missing]: expected a scramble, found none (add the line `scramble: R2 U F2 …`)
        t:1:1: fault[solution-missing]: expected a solution, found none (put a blank line behind the scramble and write the solution below it)
        t:1:65: fault[bracket-too-deep]: expected groups at most 64 deep (this bracket and those inside it are passed over)
    solution: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[
        [] []
        t:1:1: fault[solution-missing]: expected a solution, found none (add `solution: |` and the turns below it, indented by two blanks)
        t:1:1: fault[scramble-missing]: expected a scramble, found none (add the line `scramble: R2 U F2 …`)
        t:1:11: note[bracket-square]: a square bracket, read as a round one, at 64 places (write `(` and `)`)
        t:1:11: fault[bracket-unclosed]: an opening bracket that is never closed, at 64 places (put `)` where the group ends, or take the bracket away)
        t:1:75: fault[bracket-too-deep]: expected groups at most 64 deep (this bracket and those inside it are passed over)
        t:1:266: fault[yaml-syntax]: not YAML: recursion limit exceeded (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
    R U F\n\n(R U)999999999 F
        [R U F] [R U]
        t:3:6: fault[tokens-too-many]: expected at most 10000 tokens with all groups multiplied out (the group is read once; is the count right?)
    R U F\nD L
        [R U F] [D L]
        t:2:1: note[blank-line-missing]: no blank line between scramble and solution; the first line is read as the scramble (put a blank line behind the scramble)
    R U\n\n<3.0> F <2.0> D
        [R U] [F D]
        t:3:9: fault[mark-backwards]: expected marks that never run backwards (one of the two times is mistyped, or the marks are in the wrong order)
    scramble: R\nsolution: F <999f>
        [R] [F]
        t:2:13: fault[mark-needs-fps]: a time in video frames, but no `fps` in the record (add a line such as `fps: 60`, the frames a second of the video)
    scramble: not legal text\nsolution: F
        [] [F]
        t:1:11: fault[words-not-turns]: expected turns, found `not legal text` (if it is a remark, write `// not legal text`)
    ");
}

#[test]
fn bad_yaml_is_told_what_is_wrong() {
    insta::assert_snapshot!(table(&[
        b"scramble: 'R U R''\nsolution: F", b"solution: F\nscramble: 'R U R''", b"scramble: 'R U R''\nsolution: 'F U'",
        b"scramble: 'R' U R'\nsolution: F", b"scramble: R\nsoluton: F", b"scramble: R\nsolution: F\ncolour: red",
        b"scramble: R\nsolution: F\nscramble: U", b"scramble: [R, U]\nsolution:\n  - F\n  - L2", b"scramble: {a: b}\nsolution: F",
        b"scramble: &a R\nsolution: *a", b"Scramble: R U\nSolution: F", b"Scramble: R U\n\nF // cross\nL",
        b"scramble: R U\nsolution:\nF // cross: done\nL", b"scramble: R U\nsolution:\n  F // cross\n  L # pair\n  D",
        b"title: a: b\nscramble: R\nsolution: F", b"scramble: R\nsolution: F\nsight: UFQ", b"scramble: R\nsolution: F\nsight:",
        b"scramble: R\nsolution: F\nsight: [U, F]", b"scramble: R\nsolution: F\nsight: u f r", b"scramble: R\nsolution: F\nfps: 0",
        b"scramble: R\nsolution: F\nfps: -60", b"scramble: R\nsolution: F\nfps: .nan", b"scramble: R\nsolution: F\nfps: NaN",
        b"scramble: R\nsolution: F\nfps: 60 fps", b"scramble: R\nsolution: F\ntime: DNF", b"scramble: R\nsolution: F\ntime: 1:72.00",
        b"scramble: R\nsolution: F\ndate: 2026-02-29", b"scramble: R\nsolution: F\ndate: last week", b"- scramble: R\n  solution: F",
        b"  scramble: R\n  solution: F", b"scramble: R\nsolution: F\n...\nmore", b"scramble: R\n\tsolution: F",
    ]), @r"
    scramble: 'R U R''\nsolution: F
        [R U R'] [F]
        t:1:11: fault[quoted-prime]: a prime inside single quotes ends the text (take the quotes away: `scramble: R U R'`)
    solution: F\nscramble: 'R U R''
        [R U R'] [F]
        t:2:11: fault[quoted-prime]: a prime inside single quotes ends the text (take the quotes away: `scramble: R U R'`)
    scramble: 'R U R''\nsolution: 'F U'
        [R U R'] [F U]
        t:1:11: fault[quoted-prime]: a prime inside single quotes ends the text (take the quotes away: `scramble: R U R'`)
    scramble: 'R' U R'\nsolution: F
        [R' U R] [F]
        t:1:11: fault[quoted-prime]: a prime inside single quotes ends the text (take the quotes away: `scramble: R' U R`)
    scramble: R\nsoluton: F
        [R] [F]
        t:2:1: fault[field-unknown]: unknown field `soluton` (did you mean `solution`?)
    scramble: R\nsolution: F\ncolour: red
        [R] [F]
        t:3:1: fault[field-unknown]: unknown field `colour` (the fields are title, solver, date, scramble, solution, sight, hands, fps, time, until, notes)
    scramble: R\nsolution: F\nscramble: U
        [R] [F]
        t:3:1: fault[field-duplicate]: `scramble` is given twice (keep one of the two; several records go apart with a line `---`)
    scramble: [R, U]\nsolution:\n  - F\n  - L2
        [R U] [F L2]
        t:1:11: fault[field-type]: expected text in `scramble`, found a list (write `scramble: |` and the turns below it, indented by two blanks)
        t:3:3: fault[field-type]: expected text in `solution`, found a list (write `solution: |` and the turns below it, indented by two blanks)
    scramble: {a: b}\nsolution: F
        [] [F]
        t:1:1: fault[scramble-missing]: expected a scramble, found none (add the line `scramble: R2 U F2 …`)
        t:1:11: fault[field-type]: expected text in `scramble`, found fields of its own (write `scramble: |` and the turns below it, indented by two blanks)
    scramble: &a R\nsolution: *a
        [R] []
        t:2:1: fault[solution-missing]: expected a solution, found none (add `solution: |` and the turns below it, indented by two blanks)
        t:2:11: fault[field-type]: expected text in `solution`, found an alias (write `solution: |` and the turns below it, indented by two blanks)
    Scramble: R U\nSolution: F
        [R U] [F]
        t:1:1: note[field-capital]: a field name in capitals (write `scramble`)
        t:2:1: note[field-capital]: a field name in capitals (write `solution`)
    Scramble: R U\n\nF // cross\nL
        [R U] [F L]
        t:1:1: note[label-plain]: read as plain text: scramble, blank line, solution (leave the label out, or write `solution: |` before the solution and indent it)
        t:1:1: note[field-capital]: a field name in capitals (write `scramble`)
    scramble: R U\nsolution:\nF // cross: done\nL
        [R U] [F L]
        t:4:1: fault[yaml-syntax]: not YAML: simple key expected ':' (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
    scramble: R U\nsolution:\n  F // cross\n  L # pair\n  D
        [R U] [F L D]
        t:4:5: fault[yaml-syntax]: not YAML: comment intercepting the multiline text (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
    title: a: b\nscramble: R\nsolution: F
        [R] [F]
        t:1:9: fault[yaml-syntax]: not YAML: mapping values are not allowed in this context (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
    scramble: R\nsolution: F\nsight: UFQ
        [R] [F]
        t:3:10: fault[sight-invalid]: expected faces out of U D F B R L, found `Q` (write the faces the solver sees: `sight: UFR`, tilted `sight: UFRL`)
    scramble: R\nsolution: F\nsight:
        [R] [F]
        t:3:1: fault[sight-invalid]: expected at least one face, found none (leave `sight` out for the usual three faces `UFR`)
    scramble: R\nsolution: F\nsight: [U, F]
        [R] [F]
        t:3:8: fault[field-type]: expected text in `sight`, found a list (write the faces in one word: `sight: UFR`)
    scramble: R\nsolution: F\nsight: u f r
        [R] [F]
        t:3:8: note[sight-form]: an unusual way to write faces (write `sight: UFR`)
    scramble: R\nsolution: F\nfps: 0
        [R] [F]
        t:3:6: fault[fps-invalid]: expected a number above 0 and at most 100000, found `0` (write the frames a second of the video, such as `fps: 60` or `fps: 59.94`)
    scramble: R\nsolution: F\nfps: -60
        [R] [F]
        t:3:6: fault[fps-invalid]: expected a number above 0 and at most 100000, found `-60` (write the frames a second of the video, such as `fps: 60` or `fps: 59.94`)
    scramble: R\nsolution: F\nfps: .nan
        [R] [F]
        t:3:6: fault[fps-invalid]: expected a number above 0 and at most 100000, found `.nan` (write the frames a second of the video, such as `fps: 60` or `fps: 59.94`)
    scramble: R\nsolution: F\nfps: NaN
        [R] [F]
        t:3:6: fault[fps-invalid]: expected a number above 0 and at most 100000, found `NaN` (write the frames a second of the video, such as `fps: 60` or `fps: 59.94`)
    scramble: R\nsolution: F\nfps: 60 fps
        [R] [F]
        t:3:6: fault[fps-invalid]: expected a number above 0 and at most 100000, found `60 fps` (write the frames a second of the video, such as `fps: 60` or `fps: 59.94`)
    scramble: R\nsolution: F\ntime: DNF
        [R] [F]
        t:3:7: note[time-penalty]: a solve that did not count: no time is kept (leave `time` out, or write what the timer showed)
    scramble: R\nsolution: F\ntime: 1:72.00
        [R] [F]
        t:3:7: fault[time-invalid]: expected minutes and seconds up to 59, found `1:72.00` (write what the timer showed, penalties apart: `time: 9.84` or `time: 1:02.34`)
    scramble: R\nsolution: F\ndate: 2026-02-29
        [R] [F]
        t:3:7: note[date-form]: expected a day that there is, as `YYYY-MM-DD`; kept as it is (write it like `2026-05-02`)
    scramble: R\nsolution: F\ndate: last week
        [R] [F]
        t:3:7: note[date-form]: expected a day that there is, as `YYYY-MM-DD`; kept as it is (write it like `2026-05-02`)
    - scramble: R\n  solution: F
        [R] [F]
        t:1:1: fault[yaml-syntax]: expected fields such as `scramble:` (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
      scramble: R\n  solution: F
        [R] [F]
    scramble: R\nsolution: F\n...\nmore
        [R] [F]
        t:4:1: fault[yaml-syntax]: expected fields such as `scramble:` (put text with a colon in double quotes, and turns below `solution: |`, indented by two blanks)
        t:4:1: fault[words-not-turns]: expected turns, found `more` (if it is a remark, write `// more`)
    scramble: R\n·solution: F
        [R] [F]
        t:1:1: note[label-plain]: read as plain text: scramble, blank line, solution (leave the label out, or write `solution: |` before the solution and indent it)
        t:1:11: fault[yaml-syntax]: not YAML: while scanning a plain scalar, found a tab (indent with blanks, not with tabs)
        t:2:2: note[label-comment]: a label, read as a comment on the turns behind it (write `// solution` behind the turns, or on a line of its own above them)
    ");
}

/// A hundred faults among the fields are told, the others counted; every good field is still read.
#[test]
fn a_thousand_odd_fields_are_a_hundred_faults() {
    for odd in ["title: 1\n", "Title: 1\n", "unheard: 1\n", "titel: 1\n"] {
        let text = format!("scramble: R\n{}solution: U\n", odd.repeat(1_001));
        let reading = read(&text);
        let record = &reading.records[0];
        assert_eq!((moves(&record.scramble), moves(&record.solution)), ("R".into(), "U".into()));
        let faults = record.diagnostics.iter().filter(|said| said.is_fault()).count();
        assert_eq!(faults, 101, "{odd}");
        let last = record.diagnostics.last().expect("said");
        assert_eq!(last.code, "faults-too-many");
        let n_odd = if odd.starts_with("unheard") || odd.starts_with("titel") { 1_001 } else { 1_000 };
        assert!(last.message.starts_with(&format!("{} more", n_odd - 100)), "{}", last.message);
    }
}

/// No file gets more messages than somebody could read, and no faulty record loses its fault.
#[test]
fn every_record_of_a_faulty_file_keeps_a_fault() {
    let text = ["R’ K Q\n\nU Q"; 2_000].join("\n---\n");
    let reading = read(&text);
    assert_eq!(reading.records.len(), 2_000);
    assert!(reading.records.iter().all(Record::has_fault));
    let told: usize = reading.records.iter().map(|record| record.diagnostics.len()).sum();
    // Four each in 250 records, then one each.
    assert_eq!(told, 1_000 + 1_750);
    let [more] = reading.diagnostics.as_slice() else { panic!("{:?}", reading.diagnostics) };
    assert_eq!(more.code, "messages-too-many");
    assert!(more.message.starts_with("5250 more"), "{}", more.message);
    assert_eq!(more.span().map(|span| &text[span.range()]), Some("K"));
}

/// `Scramble: …` with labelled lines below is not YAML, though YAML would take it.
#[test]
fn labelled_lines_are_a_solution() {
    for gap in ["\n", "\n\n"] {
        let text = format!("Scramble: R2 U F2{gap}Cross: F2\n1st pair: U' R2 (2)\nPLL: none\n");
        let reading = read(&text.replace("PLL: none\n", ""));
        let record = &reading.records[0];
        assert!(!record.has_fault(), "{:?}", record.diagnostics);
        assert_eq!((moves(&record.scramble), moves(&record.solution)), ("R2 U F2".into(), "F2 U' R2".into()));
        let comments: Vec<_> = record.solution.comments.iter().map(|comment| comment.text.as_str()).collect();
        assert_eq!(comments, ["Cross", "1st pair", "(2)"]);
    }
    // A field that only is not known stays one.
    let reading = read("scramble: R2 U F2\ncolour: red\n");
    assert!(reading.records[0].diagnostics.iter().any(|said| said.code == "field-unknown"));
}

/// A sum has to be right (WCA Regulation A7b1, from memory: 2 + 17.65 + 2 = 21.65); a penalty is even.
#[test]
fn penalties_are_told_from_nonsense() {
    for (time, kept) in [
        ("9.84 + 2", Some(9.84)),
        ("17.65 + 2 = 19.65", Some(17.65)),
        ("2 + 17.65 + 2 = 21.65", Some(17.65)),
        ("2 + 17.65", Some(17.65)),
        ("1:02.34+4", Some(62.34)),
        ("dnf (9.84)", Some(9.84)),
        ("10.7 sec", Some(10.7)),
        ("17.65 + 2 = 20.65", None),
        ("9.84+3", None),
        ("9.84+", Some(9.84)),
        ("DNS", None),
        ("9.84+2+2+2", None),
        ("s", None),
    ] {
        let reading = read(&format!("scramble: R\nsolution: F\ntime: {time}\n"));
        let record = &reading.records[0];
        assert_eq!(record.time.map(|(time, _)| time.seconds()), kept, "{time}");
        assert_eq!(record.has_fault(), kept.is_none(), "{time}");
    }
    let reading = read("scramble: R\nsolution: F\ntime: DNF\n");
    let record = &reading.records[0];
    assert_eq!((record.time, record.has_fault()), (None, false));
}

#[test]
fn a_mark_in_the_scramble_is_not_passed_over_in_silence() {
    for text in ["scramble: R <1.0> U <2.0> // hi\nsolution: U' R'\n", "R <1.0> U <2.0> // hi\n\nU' R'"] {
        let reading = read(text);
        let record = &reading.records[0];
        let [note] = record.diagnostics.as_slice() else { panic!("{:?}", record.diagnostics) };
        assert_eq!((note.code, note.labels.len()), ("mark-in-scramble", 2));
        assert_eq!(&text[note.labels[0].span.range()], "<1.0>");
        assert_eq!(record.scramble.comments[0].text, "hi");
    }
}

/// Labels before the turns say what comments behind them say, and every claim is held against its own turns.
#[test]
fn labels_and_comments_come_to_the_same() {
    let written = include_str!("../../reconstructions/all-four-tiers.yaml").replace("\r", "");
    let labelled: Vec<String> = written
        .lines()
        .map(|line| match line.split_once("//") {
            Some((turns, words)) => format!("  {}: {} (9)", words.trim(), turns.trim()),
            None => line.into(),
        })
        .collect();
    let facts = |text: &str| {
        let source = Source::new("t", text);
        let record = &record::read(&source).records[0];
        annotate::annotate(&Study::new(&source, 1, record), &Settings::default()).facts
    };
    let (behind, before) = (facts(&written), facts(&labelled.join("\n")));
    assert!(before.faults.is_empty() && !before.notes.iter().any(|said| said.code == "claim-contradicted"));
    assert_eq!(behind.steps.len(), before.steps.len());
    for (behind, before) in behind.steps.iter().zip(&before.steps) {
        assert_eq!((&behind.name, &behind.text), (&before.name, &before.text));
        let words: Vec<_> = before.comments.iter().filter(|words| *words != "(9)").collect();
        assert_eq!(behind.comments.iter().collect::<Vec<_>>(), words);
    }
}

/// Ten thousand records of twenty bytes with large counts came to gigabytes.
#[test]
fn large_counts_in_many_records_end_the_reading_of_a_file() {
    let source = Source::new("counts", "(R)9999\n\n(U)9999\n---\n".repeat(9_000));
    let reading = record::read(&source);
    assert!((50..60).contains(&reading.records.len()), "{}", reading.records.len());
    let codes: Vec<_> = reading.diagnostics.iter().map(|said| said.code).collect();
    assert_eq!(codes, ["tokens-too-many"]);
    assert!(reading.diagnostics[0].span().is_some_and(|span| source.position(span.start).0 > 150));
}
