//! The records in `reconstructions/` are what their folder's page and their own comments say.
//!
//! Replay, steps, tiers and what was left up are worked out here from positions alone, by the definitions
//! (cross, pairs and last layer relative to the centres; the four tiers), not by the code that does it for the
//! program.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use cornerwise::cube::{Amount, Colour, Corner, FaceTurn, Move, Pair, Position, State};
use cornerwise::diagnostic::{Diagnostic, Source};
use cornerwise::notation::Element;
use cornerwise::record::{self, Record};

/// One record with its name: the file's, and its number in the file.
struct Told {
    file: String,
    number: usize,
    record: Record,
    moments: Vec<Position>,
    moves: Vec<Move>,
    cross: Colour,
    /// The moments at which the cross, each pair or two, and the last layer's steps are done.
    cross_at: usize,
    pairs: Vec<(usize, Vec<Pair>)>,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reconstructions")
}

fn read(file: &str) -> record::Reading {
    let bytes = fs::read(folder().join(file)).expect("the file is there");
    let source = Source::from_bytes(file, bytes).expect("text");
    record::read(&source)
}

fn files() -> Vec<String> {
    let entries = fs::read_dir(folder()).expect("the folder is there");
    let mut names: Vec<String> = entries
        .map(|entry| entry.expect("an entry").file_name().into_string().expect("a plain name"))
        .collect();
    names.retain(|name| name.ends_with(".yaml") || name.ends_with(".txt"));
    names.sort();
    names
}

/// All records that replay to the end of what is written.
fn told() -> Vec<Told> {
    let mut all = Vec::new();
    for file in files() {
        for (i, record) in read(&file).records.into_iter().enumerate() {
            all.push(tell(&file, i + 1, record));
        }
    }
    all
}

/// Those that are solves cross first: all but the two that are wrong on purpose and the one that shows another way.
fn solves() -> Vec<Told> {
    let others = ["missing-prime.yaml", "mistyped-token.yaml", "two-layers-at-once.yaml"];
    let mut all = told();
    all.retain(|told| !others.contains(&told.file.as_str()));
    all
}

fn tell(file: &str, number: usize, record: Record) -> Told {
    let moves: Vec<Move> = record.solution.playable().collect();
    let mut moments = vec![Position::SOLVED.after(record.scramble.playable())];
    for &mv in &moves {
        moments.push(moments[moments.len() - 1].after([mv]));
    }
    let first = |test: &dyn Fn(&State) -> bool| moments.iter().position(|at| test(&at.state));
    // The colour whose cross and pairs are first complete; for a record that is wrong, the first cross.
    let whole = |state: &State, cross: Colour| state.cross_solved(cross) && open(state, cross).is_empty();
    let cross = Colour::ALL
        .into_iter()
        .min_by_key(|&cross| {
            let late = usize::MAX;
            let cross_at = first(&|state| state.cross_solved(cross)).unwrap_or(late);
            (first(&|state| whole(state, cross)).unwrap_or(late), cross_at)
        })
        .expect("there are colours");
    let cross_at = first(&|state| state.cross_solved(cross)).expect("there is a cross");
    let mut pairs = Vec::new();
    let mut left = open(&moments[cross_at].state, cross);
    for (moment, at) in moments.iter().enumerate().skip(cross_at) {
        let now = open(&at.state, cross);
        if at.state.cross_solved(cross)
            && now.len() < left.len()
            && now.iter().all(|pair| left.contains(pair))
        {
            left.retain(|pair| !now.contains(pair));
            pairs.push((moment, std::mem::replace(&mut left, now)));
        }
    }
    Told { file: file.to_owned(), number, record, moments, moves, cross, cross_at, pairs }
}

fn open(state: &State, cross: Colour) -> Vec<Pair> {
    Pair::all(cross).into_iter().filter(|&pair| !state.pair_solved(pair)).collect()
}

fn is_up(state: &State, corner: Corner, cross: Colour) -> bool {
    state.corner(corner).place().centres().contains(&cross.opposite())
}

/// The last layer's turn that would solve the cube, none among them.
fn nearly_solved(state: &State, top: Colour) -> bool {
    state.is_solved()
        || Amount::ALL.into_iter().any(|amount| state.turned(FaceTurn { centre: top, amount }).is_solved())
}

fn oriented(state: &State, cross: Colour) -> bool {
    let top = cross.opposite();
    let corners = Corner::ALL.into_iter().filter(|c| c.has(top));
    let edges = cornerwise::cube::Edge::ALL.into_iter().filter(|e| e.has(top));
    state.cross_solved(cross)
        && open(state, cross).is_empty()
        && corners.into_iter().all(|c| state.corner(c).side_of(c, top) == Some(top))
        && edges.into_iter().all(|e| state.edge(e).side_of(e, top) == Some(top))
}

impl Told {
    fn end(&self) -> &State {
        &self.moments[self.moves.len()].state
    }

    /// The steps whose next pair is solved by one of their successors: from, to, the slots filled, the pairs next.
    fn scans(&self) -> Vec<(usize, usize, &[Pair], &[Pair])> {
        let mut scans = Vec::new();
        let (mut from, mut to, mut filled): (usize, usize, &[Pair]) = (0, self.cross_at, &[]);
        for (moment, pairs) in &self.pairs {
            scans.push((from, to, filled, pairs.as_slice()));
            (from, to, filled) = (to, *moment, pairs);
        }
        scans
    }

    /// The tier of every next pair's corner, numbered from 1, by the definition.
    fn tiers(&self) -> Vec<u8> {
        let mut tiers = Vec::new();
        for (from, to, filled, next) in self.scans() {
            for pair in next {
                let place = self.moments[from].state.corner(pair.corner).place();
                let target = filled.iter().any(|pair| pair.corner.home() == place);
                tiers.push(if is_up(&self.moments[from].state, pair.corner, self.cross) {
                    1
                } else if target {
                    2
                } else if is_up(&self.moments[to].state, pair.corner, self.cross) {
                    3
                } else {
                    4
                });
            }
        }
        tiers
    }

    /// The moments at the end of a step at which no open corner is up.
    fn none_up(&self) -> Vec<usize> {
        let ends = std::iter::once(self.cross_at).chain(self.pairs.iter().map(|pair| pair.0));
        ends.filter(|&moment| {
            let state = &self.moments[moment].state;
            let open = open(state, self.cross);
            !open.is_empty() && !open.iter().any(|pair| is_up(state, pair.corner, self.cross))
        })
        .collect()
    }

    /// From the first mark to the last, in microseconds.
    fn marked(&self) -> Option<u64> {
        let marks = &self.record.solution.marks;
        Some(marks.last()?.time.0 - marks.first()?.time.0)
    }

    fn name(&self) -> String {
        format!("{} ({})", self.file, self.number)
    }
}

#[track_caller]
fn one(file: &str) -> Told {
    told().into_iter().find(|told| told.file == file).expect("the record is there")
}

#[test]
fn every_record_can_be_read_but_the_one_that_is_broken_on_purpose() {
    for file in files() {
        let reading = read(&file);
        let faults: Vec<_> = reading.all_diagnostics().filter(|d| Diagnostic::is_fault(d)).collect();
        let expected = usize::from(file == "mistyped-token.yaml");
        assert_eq!(faults.len(), expected, "{file}: {faults:?}");
    }
}

#[test]
fn every_record_says_that_it_is_invented() {
    for told in told() {
        let comments = told.record.solution.comments.iter().map(|comment| comment.text.to_lowercase());
        let notes = told.record.notes.iter().map(|notes| notes.to_lowercase());
        assert!(comments.chain(notes).any(|text| text.contains("invented")), "{}", told.name());
    }
}

#[test]
fn every_solve_is_solved_cross_first_and_of_a_length_people_need() {
    for told in solves() {
        let name = told.name();
        assert!(told.end().is_solved(), "{name}");
        let obtm = |moves: &[Move]| moves.iter().map(|mv| mv.obtm()).sum::<usize>();
        assert!((45..=65).contains(&obtm(&told.moves)), "{name}: {} turns", obtm(&told.moves));
        assert!((5..=8).contains(&obtm(&told.moves[..told.cross_at])), "{name}: the cross");
        let mut from = told.cross_at;
        for (to, pairs) in &told.pairs {
            let turns = obtm(&told.moves[from..*to]);
            assert!((3..=9).contains(&turns), "{name}: {turns} turns for {pairs:?}");
            from = *to;
        }
        assert!(open(&told.moments[from].state, told.cross).is_empty(), "{name}: four pairs");
        // Nobody turns a face, lets go and turns it again.
        for two in told.moves.windows(2) {
            if let [Move::Turn(a, _), Move::Turn(b, _)] = two {
                assert_ne!(a, b, "{name}");
            }
        }
    }
}

/// A claim `// cross` or `// 2nd pair` stands where its step ends.
#[test]
fn steps_end_where_the_comments_say() {
    let ordinals = ["1st", "2nd", "3rd", "4th"];
    let mut claims = 0;
    for told in solves() {
        let name = told.name();
        let mut solved = open(&told.moments[told.cross_at].state, told.cross).len();
        solved = 4 - solved;
        let mut ends = BTreeMap::new();
        for (moment, pairs) in &told.pairs {
            for _ in pairs {
                ends.insert(ordinals[solved], *moment);
                solved += 1;
            }
        }
        let first = |test: &dyn Fn(&State) -> bool| told.moments.iter().position(|at| test(&at.state));
        for comment in &told.record.solution.comments {
            let mut expected = BTreeSet::new();
            let words = comment.text.to_lowercase();
            if words.starts_with("cross") || words.starts_with("xcross") {
                expected.insert(told.cross_at);
            }
            if words.contains(" pair") {
                expected.extend(ordinals.iter().filter(|n| words.contains(*n)).map(|n| ends[n]));
            }
            if words.starts_with("oll") {
                expected.extend(first(&|state| oriented(state, told.cross)));
            }
            if words.starts_with("pll") {
                expected.extend(first(&|state| {
                    oriented(state, told.cross) && nearly_solved(state, told.cross.opposite())
                }));
            }
            claims += expected.len();
            for moment in expected {
                assert_eq!(comment.moment, moment, "{name}: {}", comment.text);
            }
        }
    }
    assert!(claims > 100, "{claims} claims were checked");
}

#[test]
fn timed_records_have_times_people_need() {
    let mut timed = 0;
    for told in solves() {
        let name = told.name();
        let Some((time, _)) = told.record.time else { continue };
        assert!((8.0..=15.0).contains(&time.seconds()), "{name}");
        let turns: usize = told.moves.iter().map(|mv| mv.obtm()).sum();
        let pace = turns as f64 / time.seconds();
        assert!((4.0..=7.0).contains(&pace), "{name}: {pace} turns a second");
        if let Some(marked) = told.marked() {
            timed += 1;
            // One hundredth, or one frame at each end.
            let within = if told.record.fps.is_some() { 2_000_000 / 60 } else { 10_000 };
            assert!(marked.abs_diff(time.0) <= within, "{name}: {marked} and {}", time.0);
        }
    }
    assert!(timed >= 10, "{timed} records have marks");
}

#[test]
fn the_four_tiers_all_occur() {
    let all: BTreeSet<u8> = solves().iter().flat_map(Told::tiers).collect();
    assert_eq!(all, BTreeSet::from([1, 2, 3, 4]));
    let mut each = one("all-four-tiers.yaml").tiers();
    each.sort_unstable();
    assert_eq!(each, [1, 2, 3, 4]);
}

#[test]
fn the_cross_is_of_every_colour_somewhere() {
    let colours: BTreeSet<Colour> = solves().iter().map(|told| told.cross).collect();
    assert_eq!(colours.len(), 6);
}

#[test]
fn each_file_shows_what_its_name_says() {
    let xcross = one("xcross.yaml");
    assert_eq!(open(&xcross.moments[xcross.cross_at].state, xcross.cross).len(), 3);
    assert!(one("two-pairs-at-once.yaml").pairs.iter().any(|(_, pairs)| pairs.len() == 2));
    assert_eq!(one("red-cross-wide-turns.yaml").cross, Colour::Red);
    assert_eq!(one("frames-at-60.yaml").record.fps, Some(60.0));
    assert!(one("frames-at-60.yaml").record.solution.marks.iter().all(|mark| mark.frame.is_some()));
    assert_eq!(read("three-of-one-morning.yaml").records.len(), 3);

    let every = one("mark-on-every-turn.yaml");
    let marked: BTreeSet<usize> = every.record.solution.marks.iter().map(|mark| mark.moment).collect();
    assert!((2..=every.moves.len()).all(|moment| marked.contains(&moment)));

    let skip = one("orientation-skip.yaml");
    assert!(oriented(&skip.moments[skip.pairs[3].0].state, skip.cross));
    let skip = one("permutation-skip.yaml");
    let first = skip.moments.iter().find(|at| oriented(&at.state, skip.cross)).expect("oriented");
    assert!(nearly_solved(&first.state, skip.cross.opposite()));

    assert!(!one("no-corner-up.yaml").none_up().is_empty());
    let buried = one("buried-corner.yaml");
    let up = |moment: usize, pair: &Pair| is_up(&buried.moments[moment].state, pair.corner, buried.cross);
    assert!(buried.scans().iter().any(|&(from, to, _, next)| next.iter().any(|p| up(from, p) && !up(to, p))));

    let slices = |told: &Told| told.moves.iter().any(|mv| matches!(mv, Move::Slice(..)));
    assert!(slices(&one("no-corner-up.yaml")));
    assert!(one("tilted-for-the-left.yaml").record.sight.len() == 4);
}

/// At least two timed records have a long pause, a corner that ends down and a boundary with none up.
#[test]
fn timed_records_have_pauses_worth_a_cause() {
    let mut found = 0;
    for told in solves() {
        let marks = &told.record.solution.marks;
        let long = marks
            .windows(2)
            .any(|two| two[0].moment == two[1].moment && two[1].time.0 - two[0].time.0 >= 500_000);
        found += usize::from(long && !told.none_up().is_empty());
    }
    assert!(found >= 2, "{found}");
}

#[test]
fn the_missing_prime_is_the_only_one_that_helps() {
    let told = one("missing-prime.yaml");
    assert!(!told.end().is_solved());
    // The colour of the cross and the first pair can still be told.
    assert_eq!((told.cross, told.cross_at), (Colour::White, 7));
    let mut mended = Vec::new();
    for (i, mv) in told.moves.iter().enumerate() {
        let back = match *mv {
            Move::Turn(face, Amount::Quarter) => Move::Turn(face, Amount::Back),
            Move::Wide(face, Amount::Quarter) => Move::Wide(face, Amount::Back),
            Move::Slice(slice, Amount::Quarter) => Move::Slice(slice, Amount::Back),
            Move::Rotation(axis, Amount::Quarter) => Move::Rotation(axis, Amount::Back),
            _ => continue,
        };
        let mut moves = told.moves.clone();
        moves[i] = back;
        if told.moments[0].after(moves).state.is_solved() {
            mended.push(i);
        }
    }
    assert_eq!(mended.len(), 1, "{mended:?}");
}

#[test]
fn the_program_too_tells_the_cross_of_a_record_that_goes_wrong_after_it() {
    for file in ["missing-prime.yaml", "mistyped-token.yaml"] {
        let told = one(file);
        let replay =
            cornerwise::replay::Replay::new(told.record.scramble.playable(), told.moves.iter().copied());
        let solve = cornerwise::steps::split(&replay);
        assert_eq!(solve.cross, Some(told.cross), "{file}");
        assert_eq!(told.cross, Colour::White, "{file}");
    }
}

#[test]
fn the_mistyped_token_is_all_that_is_wrong() {
    let told = one("mistyped-token.yaml");
    let back = Move::Turn(cornerwise::cube::Face::R, Amount::Back);
    let moves = told.record.solution.tokens.iter().map(|token| match token.element {
        Element::Move(mv) => mv,
        _ => back,
    });
    let read = told.record.solution.tokens.iter().filter(|t| matches!(t.element, Element::Move(_))).count();
    assert_eq!(read + 1, told.record.solution.tokens.len());
    assert!(told.moments[0].after(moves).state.is_solved());
}

/// Both records of a file, of which the scrambled positions must be equal.
fn both(file: &str) -> [Told; 2] {
    let mut two = told();
    two.retain(|told| told.file == file);
    let two: [Told; 2] = two.try_into().unwrap_or_else(|_| panic!("{file} has two records"));
    assert_eq!(two[0].moments[0], two[1].moments[0]);
    two
}

#[test]
fn records_of_one_scramble_part_and_meet_as_said() {
    let [a, b] = both("fork-after-first-pair.yaml");
    assert_eq!(a.pairs[0], b.pairs[0]);
    let first = a.pairs[0].0;
    assert_eq!(a.moves[..first], b.moves[..first]);
    assert_ne!(a.pairs[1].1, b.pairs[1].1);

    let [a, b] = both("two-crosses.yaml");
    assert_ne!(a.cross, b.cross);

    let [a, b] = both("meets-again.yaml");
    assert_ne!(a.pairs[0].1, b.pairs[0].1);
    assert_ne!(a.moments[a.pairs[0].0].state, b.moments[b.pairs[0].0].state);
    let (here, there) = (a.moments[a.pairs[1].0].state, b.moments[b.pairs[1].0].state);
    let turned = |amount| here.turned(FaceTurn { centre: a.cross.opposite(), amount });
    assert!(here == there || Amount::ALL.into_iter().any(|amount| turned(amount) == there));
}

#[test]
fn the_folders_page_is_true() {
    let page = fs::read_to_string(folder().join("README.md")).expect("the page");
    let mut rows: Vec<[String; 4]> = Vec::new();
    for line in page.lines().filter(|line| line.starts_with("| ") && !line.starts_with("| file")) {
        let cells: Vec<&str> = line.trim_matches('|').split('|').map(str::trim).collect();
        let file = match cells[0].trim_matches('`') {
            "" => rows.last().expect("a row with a name")[0].clone(),
            name => name.to_owned(),
        };
        rows.push([file, cells[1].to_owned(), cells[2].to_owned(), cells[3].to_owned()]);
    }
    let expected: Vec<[String; 4]> = told()
        .iter()
        .map(|told| {
            let turns: usize = told.moves.iter().map(|mv| mv.obtm()).sum();
            let turns = if told.file == "mistyped-token.yaml" { String::new() } else { turns.to_string() };
            let time = told.record.time.map_or(String::new(), |(time, _)| format!("{:.2}", time.seconds()));
            [told.file.clone(), told.cross.to_string(), turns, time]
        })
        .collect();
    assert_eq!(rows, expected);
}
