//! The finished annotation against its definitions (`docs/method.md`), worked out a second time, slowly, from
//! stickers in space: places, tiers, what is open, plain sight and what is in time by it, lengths, holds, lanes.

use std::fs;

use crate::support::read;
use crate::support::slow_steps::slow_split;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use crate::support::space::{self, Space};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{
    Annotation, Clue, Deduced, Judged, LaneGrade, Offer, Step, StepKind, Watch, Why,
};
use cornerwise::cube::{Colour, Face, FaceSet, Move};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::steps::Kind;
use cornerwise::study::Study;

fn annotations(name: &str, text: &str) -> Vec<Annotation> {
    let source = Source::new(name, text);
    let records = record::read(&source).records;
    let one = |(i, record): (usize, &record::Record)| {
        annotate(&Study::new(&source, i + 1, record), &Settings::default())
    };
    records.iter().enumerate().map(one).map(|annotated| annotated.facts).collect()
}

/// The annotations of every record in `reconstructions/`.
fn kept() -> Vec<Annotation> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/reconstructions");
    let mut paths: Vec<_> =
        fs::read_dir(folder).expect("the folder").map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    paths
        .iter()
        .filter(|path| path.extension().is_some_and(|e| e == "yaml" || e == "txt"))
        .flat_map(|path| annotations(&path.display().to_string(), &fs::read_to_string(path).expect("text")))
        .collect()
}

/// Solves of every kind, made and written down.
fn made(n: usize, seed: u64) -> Vec<Annotation> {
    let (mut solver, mut rng) = (Solver::new(), Rng::new(seed));
    (0..n)
        .flat_map(|i| {
            let options = Options {
                cross: (i % 2 == 0).then(|| Colour::ALL[i / 2 % 6]),
                xcross: i % 5 == 0,
                two_pairs: i % 7 == 0,
                wide: i % 3 == 0,
                looks_ahead: i % 4 != 0,
                ..Options::default()
            };
            let mut solve = solver.random(&mut rng, &options);
            if i % 2 == 1 {
                solve = solve.respelled(&mut rng);
            }
            let style = Style { marks: Marks::None, ..Style::default() };
            annotations("made", &solve.yaml("made", &style, &mut rng))
        })
        .collect()
}

/// A solve in space: the cube at every moment, and what the annotation is to be judged with.
struct Slow<'a> {
    facts: &'a Annotation,
    moves: Vec<Move>,
    moments: Vec<Space>,
    sight: Vec<Face>,
    /// Cross colour and, of each step, kind, end and pairs by the definition.
    steps: Vec<(Kind, usize, Vec<[Colour; 2]>)>,
    cross: Colour,
}

type Pair = [Colour; 2];

/// The pair's name: its colours in alphabetical order.
fn pair_name(pair: Pair) -> String {
    let mut names = pair.map(|colour| colour.to_string());
    names.sort();
    names.join("-")
}

fn names(pairs: impl IntoIterator<Item = Pair>) -> Vec<String> {
    let mut names: Vec<String> = pairs.into_iter().map(pair_name).collect();
    names.sort();
    names
}

fn told_pairs<'o>(offers: impl Iterator<Item = &'o Offer>) -> Vec<String> {
    let mut names: Vec<String> = offers.map(|offer| offer.pair.to_string()).collect();
    names.sort();
    names
}

/// The piece's name: its colours in alphabetical order.
fn piece_name(colours: &[Colour]) -> String {
    let mut names: Vec<String> = colours.iter().map(|colour| colour.to_string()).collect();
    names.sort();
    names.join("-")
}

fn is_rotation(mv: Move) -> bool {
    matches!(mv, Move::Rotation(..))
}

/// WCA Regulation 12a5: outer and wide turns are 1, rotations 0; a slice is two outer turns and a rotation.
fn obtm(moves: &[Move]) -> usize {
    moves
        .iter()
        .map(|mv| match mv {
            Move::Turn(..) | Move::Wide(..) => 1,
            Move::Slice(..) => 2,
            Move::Rotation(..) => 0,
        })
        .sum()
}

impl<'a> Slow<'a> {
    fn new(facts: &'a Annotation) -> Slow<'a> {
        let scramble = read::moves(&facts.scramble);
        let tokens: Vec<String> =
            facts.moments.iter().filter_map(|moment| moment.token).map(|token| token.to_string()).collect();
        let moves = read::moves(&tokens.join(" "));
        let mut space = Space::played(&scramble);
        let mut moments = vec![space.clone()];
        for &mv in &moves {
            space.play(mv);
            moments.push(space.clone());
        }
        let sight = Face::ALL.into_iter().filter(|&face| facts.sight.contains(face)).collect();
        let (cross, steps) = slow_split(&scramble, &moves);
        Slow { facts, moves, moments, sight, steps, cross }
    }

    /// How many stickers of a piece lie on faces in sight.
    fn visible(&self, moment: usize, colours: &[Colour], sight: &[Face]) -> usize {
        let space = &self.moments[moment];
        colours.iter().filter(|&&colour| sight.contains(&space.side(colours, colour))).count()
    }

    /// Whether a piece is in plain sight: two of its stickers are.
    fn is_plain(&self, moment: usize, colours: &[Colour]) -> bool {
        self.visible(moment, colours, &self.sight) >= 2
    }

    fn corner(&self, pair: Pair) -> [Colour; 3] {
        [self.cross, pair[0], pair[1]]
    }

    /// Turns of the step to go at a moment.
    fn to_go(&self, step: &Step, moment: usize) -> usize {
        obtm(&self.moves[moment..step.to])
    }

    /// Whether a moment is in time: three turns to go, or the first moment of the step.
    fn in_time(&self, step: &Step, moment: usize) -> bool {
        moment == step.from || self.to_go(step, moment) >= 3
    }

    fn check(&self) {
        let facts = self.facts;
        assert_eq!(facts.moments.len(), self.moments.len());
        assert_eq!(facts.cross, Some(self.cross));
        for (moment, space) in facts.moments.iter().zip(&self.moments) {
            let faces = [Face::U, Face::L, Face::F, Face::R, Face::B, Face::D];
            let letters: String =
                faces.into_iter().flat_map(|face| space.face(face)).map(Colour::letter).collect();
            assert_eq!(moment.stickers.to_string(), letters);
            assert_eq!(moment.hold.up, space.face(Face::U)[4]);
            assert_eq!(moment.hold.front, space.face(Face::F)[4]);
        }
        let end = &self.moments[self.moves.len()];
        assert_eq!(facts.solved, end.all_faces_are_uniform());
        assert_eq!((facts.end.judged == Judged::Solved), end.all_faces_are_uniform());
        assert_eq!((facts.tokens, facts.etm), (self.moves.len(), self.moves.len()));
        assert_eq!(facts.obtm, obtm(&self.moves));
        assert_eq!(facts.steps.len(), self.steps.len());
        let mut from = 0;
        for (i, step) in facts.steps.iter().enumerate() {
            assert_eq!(step.from, from);
            self.check_step(i, step);
            from = step.to;
        }
        self.check_lanes();
    }

    fn check_step(&self, i: usize, step: &Step) {
        let (kind, to, pairs) = &self.steps[i];
        let space = &self.moments[step.from];
        assert_eq!(format!("{:?}", step.kind), format!("{kind:?}"));
        assert_eq!(step.to, *to, "{}", step.name);
        let mut told: Vec<String> = step.pairs.iter().map(ToString::to_string).collect();
        told.sort();
        assert_eq!(told, names(pairs.iter().copied()));
        assert_eq!(step.hold.up, space.face(Face::U)[4]);
        assert_eq!(step.hold.front, space.face(Face::F)[4]);
        let moves = &self.moves[step.from..step.to];
        assert_eq!(read::moves(&step.text.to_string()), moves);
        assert_eq!((step.obtm, step.etm), (obtm(moves), moves.len()));

        let done: Vec<Pair> = self.steps[..=i].iter().flat_map(|step| step.2.iter().copied()).collect();
        let all = space::pairs_of(self.cross);
        let is_done = |pair: &Pair| done.iter().any(|&other| pair_name(other) == pair_name(*pair));
        let offered: Vec<Pair> = all.into_iter().filter(|pair| !is_done(pair)).collect();
        if !matches!(step.kind, StepKind::Cross | StepKind::Pair) {
            assert!(step.offers.is_empty(), "the first two layers are in");
            return;
        }
        assert_eq!(told_pairs(step.offers.iter()), names(offered.iter().copied()), "{}", step.name);
        let next: Vec<Pair> = match self.steps.get(i + 1) {
            Some((Kind::Pair, _, pairs)) => pairs.clone(),
            _ => Vec::new(),
        };
        assert_eq!(told_pairs(step.next()), names(next));
        assert!(step.offers.is_sorted_by_key(|offer| (!offer.taken, offer.tier)));

        let end = &self.moments[step.to];
        let filled: &[Pair] = if step.kind == StepKind::Pair { pairs } else { &[] };
        for &pair in &offered {
            let is_it = |offer: &&Offer| offer.pair.to_string() == pair_name(pair);
            let offer = step.offers.iter().find(is_it).expect("offered");
            assert_eq!(offer.tier.word(), space::tier(space, end, self.cross, pair, filled));
            let corner = self.corner(pair);
            let buried = space.is_up(self.cross, &corner) && !end.is_up(self.cross, &corner);
            assert_eq!(offer.buried, buried);
            self.check_watch(i, step, &offer.corner, &corner);
            self.check_watch(i, step, &offer.edge, &pair);
            self.check_found(step, offer);
        }
    }

    /// Leads, and what is in time: by plain sight, by all that was found, and as it is told.
    fn check_found(&self, step: &Step, offer: &Offer) {
        let watches = [&offer.corner, &offer.edge];
        // The later of two moments, if there are both.
        let both = |moment: fn(&Watch) -> Option<usize>| {
            let [corner, edge] = watches.map(moment);
            corner.zip(edge).map(|(corner, edge)| corner.max(edge))
        };
        let in_time = |moment: Option<usize>| moment.is_some_and(|moment| self.in_time(step, moment));
        let to_go = |moment: Option<usize>| moment.map(|moment| self.to_go(step, moment));
        let plain = both(|watch| watch.plain);
        assert_eq!((offer.plain_lead, offer.plain_ready), (to_go(plain), in_time(plain)));
        let found = both(Watch::found);
        assert_eq!((offer.lead, offer.ready), (to_go(found), in_time(found)));
        assert_eq!(offer.found_at(), found);
        assert!(offer.lead >= offer.plain_lead && offer.ready >= offer.plain_ready);
        assert_eq!(offer.deduced, offer.ready && !offer.plain_ready);
        let told =
            watches.map(|watch| watch.plain.filter(|&plain| self.in_time(step, plain)).or(watch.found()));
        let told = told[0].zip(told[1]).map(|(corner, edge)| corner.max(edge));
        assert_eq!(offer.told_lead, to_go(told));
        assert_eq!(offer.at_once, told == Some(step.from));
        // With every face in sight everything is plain at once, so some faces always help.
        assert_eq!(offer.more.is_some(), !offer.ready);
    }

    fn check_watch(&self, i: usize, step: &Step, watch: &Watch, colours: &[Colour]) {
        let place = |moment: usize| self.moments[moment].place(colours);
        assert_eq!(watch.from.to_string(), place(step.from));
        assert_eq!(watch.to.to_string(), place(step.to));
        assert_eq!(watch.up, self.moments[step.to].is_up(self.cross, colours));
        // A turn that carries it; a rotation carries the whole cube.
        let carried =
            |&moment: &usize| !is_rotation(self.moves[moment - 1]) && place(moment) != place(moment - 1);
        let way: Vec<(usize, String)> =
            (step.from + 1..=step.to).filter(carried).map(|moment| (moment, place(moment))).collect();
        let told: Vec<(usize, String)> =
            watch.way.iter().map(|&(moment, place)| (moment, place.to_string())).collect();
        assert_eq!(told, way, "{} in {:?}", colours[0], step.text);
        let plain = (step.from..=step.to).find(|&moment| self.is_plain(moment, colours));
        assert_eq!(watch.plain, plain);
        // `known` itself is held against every assignment in `tests/judgement/sight.rs`.
        let within = |moment: Option<usize>| moment.is_none_or(|m| (step.from..=step.to).contains(&m));
        assert!(within(watch.known) && within(watch.oriented));
        let no_later = |one: Option<usize>, other: Option<usize>| {
            other.is_none_or(|other| one.is_some_and(|one| one <= other))
        };
        // Who sees it has found it, and what is found is known to who reasons perfectly.
        assert!(no_later(watch.found(), watch.plain) && no_later(watch.known, watch.found()));
        assert!(no_later(watch.known, watch.oriented) && no_later(watch.oriented, watch.plain));
        if let Some(deduced) = &watch.deduced {
            assert!((step.from..=step.to).contains(&deduced.moment));
            assert!(plain.is_none_or(|plain| deduced.moment < plain));
            self.check_deduced(deduced, colours);
        }
        let before = i.checked_sub(1).map(|before| &self.facts.steps[before]);
        let before = before.filter(|before| matches!(before.kind, StepKind::Cross | StepKind::Pair));
        let last = before.and_then(|before| {
            (before.from..=before.to).rev().find(|&moment| self.is_plain(moment, colours))
        });
        let told = watch.before.map(|(moment, place)| (moment, place.to_string()));
        assert_eq!(told, last.map(|moment| (moment, place(moment))));
    }

    /// What is told of a deduction is so.
    fn check_deduced(&self, deduced: &Deduced, colours: &[Colour]) {
        let space = &self.moments[deduced.moment];
        assert_eq!(deduced.piece, piece_name(colours));
        assert_eq!(deduced.place.to_string(), space.place(colours));
        let Clue::OneSticker { colour, face, ruled_out } = &deduced.clue else { return };
        let shown: Vec<Colour> = colours
            .iter()
            .copied()
            .filter(|&colour| self.sight.contains(&space.side(colours, colour)))
            .collect();
        assert_eq!(shown, [*colour]);
        assert_eq!(*face, FaceSet::of(&[space.side(colours, *colour)]));
        // Four corners have a colour, and four edges.
        let mut out: Vec<&str> = ruled_out.iter().map(|out| out.piece.as_str()).collect();
        out.sort_unstable();
        out.dedup();
        assert_eq!(out.len(), 3);
        for out in ruled_out {
            let piece: Vec<Colour> = Colour::ALL
                .into_iter()
                .filter(|colour| out.piece.split('-').any(|name| name == colour.to_string()))
                .collect();
            assert!(
                piece.len() == colours.len() && piece.contains(colour) && piece_name(&piece) != deduced.piece
            );
            // What is in its slot or in hand, or of the cross, is known before one looks.
            let given = matches!(out.why, Why::Cross | Why::Solved | Why::InHand);
            let open = self.is_plain(deduced.moment, &piece);
            assert!(given || (out.why == Why::LiesOpen) == open, "{}", out.piece);
            match out.why {
                Why::LiesOpen => {
                    assert_eq!(out.place.map(|place| place.to_string()), Some(space.place(&piece)));
                }
                Why::Found => assert!(out.place.is_some()),
                Why::Cross => assert!(piece.len() == 2 && piece.contains(&self.cross)),
                Why::Solved | Why::InHand => assert!(piece.len() == 2 || piece.contains(&self.cross)),
            }
        }
    }

    fn check_lanes(&self) {
        assert_eq!(self.facts.lanes.len(), 4);
        for lane in &self.facts.lanes {
            let pair = space::pairs_of(self.cross)
                .into_iter()
                .find(|&pair| pair_name(pair) == lane.pair.to_string());
            let pair = pair.expect("a pair of the cross");
            let insertion =
                self.steps.iter().find(|step| names(step.2.iter().copied()).contains(&lane.pair.to_string()));
            assert_eq!(lane.solved, insertion.map(|step| step.1));
            assert_eq!(lane.cells.len(), lane.solved.unwrap_or(self.moves.len()) + 1);
            for (moment, cell) in lane.cells.iter().enumerate() {
                let space = &self.moments[moment];
                let corner = self.corner(pair);
                // Before the first turn everything can be looked at, from any side.
                let in_inspection =
                    self.facts.steps.iter().any(|step| {
                        step.kind == StepKind::Inspection && (step.from..step.to).contains(&moment)
                    });
                for (spot, colours) in [(&cell.corner, &corner[..]), (&cell.edge, &pair[..])] {
                    assert_eq!(spot.place.to_string(), space.place(colours));
                    assert_eq!(spot.up, space.is_up(self.cross, colours));
                    let plain = in_inspection || self.is_plain(moment, colours);
                    assert_eq!(spot.sight == LaneGrade::Plain, plain);
                    assert!(spot.known || spot.sight == LaneGrade::NotFound, "what is had is known");
                    if !plain {
                        let had = self.is_had(&lane.pair.to_string(), moment, colours.len());
                        assert_eq!(spot.sight == LaneGrade::Followed, had);
                    }
                }
                let step = self.facts.steps.iter().rfind(|step| step.from <= moment);
                let index = step.and_then(|step| self.facts.steps.iter().position(|s| s == step));
                let filled = index.map(|i| &self.steps[i]).filter(|step| step.0 == Kind::Pair);
                let target = filled.is_some_and(|step| {
                    step.2.iter().any(|&slot| space.is_in_slot(self.cross, &corner, slot))
                });
                assert_eq!(cell.corner.target, target);
            }
        }
    }

    /// Whether a piece of the pair, the corner of three colours or the edge of two, is in hand at a moment or had been found
    /// in the step that goes on or begins there.
    fn is_had(&self, pair: &str, moment: usize, colours: usize) -> bool {
        let step = self.facts.steps.iter().rfind(|step| step.from <= moment).expect("one goes on");
        // The last insertion is the end of its lane and of its step.
        let ends = |step: &&Step| step.to == moment && step.pairs.iter().any(|it| it.to_string() == pair);
        let step = self.facts.steps.iter().find(ends).unwrap_or(step);
        if step.pairs.iter().any(|it| it.to_string() == pair) {
            return true;
        }
        let offer = step.offers.iter().find(|offer| offer.pair.to_string() == pair).expect("open");
        let watch = if colours == 3 { &offer.corner } else { &offer.edge };
        watch.found().is_some_and(|found| found <= moment)
    }

    /// The fact at the end of the scan in docs/method.md, where a step begins or ends with the cross solved.
    fn check_fact(&self) -> usize {
        let boundaries = self.facts.steps.iter().filter(|step| !step.offers.is_empty()).map(|step| step.to);
        boundaries.filter(|&moment| fact_holds(&self.moments[moment], self.cross)).count()
    }
}

/// If no corner of an open pair is up, all four corners up are of the last layer, and every open slot holds a
/// corner of an open pair. Says whether the condition was met.
#[track_caller]
fn fact_holds(space: &Space, cross: Colour) -> bool {
    let open: Vec<Pair> =
        space::pairs_of(cross).into_iter().filter(|&pair| !space.pair_is_solved(cross, pair)).collect();
    let corner = |pair: Pair| [cross, pair[0], pair[1]];
    if open.is_empty() || open.iter().any(|&pair| space.is_up(cross, &corner(pair))) {
        return false;
    }
    let top = space::sides_of(space::sides_of(cross)[0])
        .into_iter()
        .find(|&other| other != cross && !space::sides_of(cross).contains(&other));
    let top = top.expect("every colour has an opposite");
    let last_layer = space::pairs_of(top).into_iter().map(|[a, b]| [top, a, b]);
    assert_eq!(last_layer.filter(|corner| space.is_up(cross, corner)).count(), 4);
    for &slot in &open {
        let held = open.iter().filter(|&&pair| space.is_in_slot(cross, &corner(pair), slot)).count();
        assert_eq!(held, 1, "slot {} holds a corner of an open pair", pair_name(slot));
    }
    true
}

/// Whether the first two layers get done: the slow way of cutting into steps needs that.
fn finishes_two_layers(facts: &Annotation) -> bool {
    facts.steps.iter().map(|step| step.pairs.len()).sum::<usize>() == 4
}

#[test]
fn every_record_kept_here_is_annotated_as_defined() {
    let all = kept();
    let (mut checked, mut met) = (0, 0);
    for facts in all.iter().filter(|facts| finishes_two_layers(facts)) {
        let slow = Slow::new(facts);
        slow.check();
        met += slow.check_fact();
        checked += 1;
    }
    assert!(checked >= 20, "{checked} of {}", all.len());
    assert!(met >= 1, "some record has a boundary with no corner up");
}

#[test]
fn made_solves_are_annotated_as_defined() {
    let (mut tiers, mut ways, mut tilts, mut two, mut not_the_best, mut buried) =
        ([0; 4], [0; 4], 0, 0, 0, 0);
    let mut clues = [0; 2];
    for facts in made(90, 41) {
        let slow = Slow::new(&facts);
        slow.check();
        slow.check_fact();
        for step in &facts.steps {
            two += usize::from(step.next().count() > 1);
            let best = step.offers.iter().map(|offer| offer.tier).min();
            not_the_best += usize::from(step.taken().is_some_and(|taken| Some(taken.tier) > best));
            for offer in &step.offers {
                tiers[offer.tier as usize] += 1;
                ways[usize::from(offer.plain_ready)
                    + usize::from(offer.ready)
                    + usize::from(offer.at_once)] += 1;
                tilts += usize::from(offer.more.as_ref().is_some_and(|more| more.tilt));
                buried += usize::from(offer.buried);
                for deduced in [&offer.corner, &offer.edge].into_iter().filter_map(|it| it.deduced.as_ref()) {
                    clues[usize::from(deduced.clue == Clue::OnlyPlace)] += 1;
                }
            }
        }
    }
    // Made solves meet everything there is to be wrong about: late, to be worked out, plain, at once.
    assert!(tiers.iter().all(|&n| n >= 10), "{tiers:?}");
    assert!(ways.iter().all(|&n| n >= 20), "{ways:?}");
    assert!(clues.iter().all(|&n| n >= 10), "{clues:?}");
    assert!(
        tilts >= 20 && two >= 3 && not_the_best >= 20 && buried >= 3,
        "{tilts} {two} {not_the_best} {buried}"
    );
}

/// What other faces in sight change; and the faces that are said to make a pair ready do, when they are in sight.
#[test]
fn another_sight_is_judged_as_defined_too() {
    let text = include_str!("../../reconstructions/tilted-for-the-left.yaml");
    let source = Source::new("tilted", text);
    let record = &record::read(&source).records[0];
    let set = |bits: usize| -> FaceSet {
        let faces = Face::ALL.into_iter().enumerate().filter(|(i, _)| bits >> i & 1 != 0);
        faces.map(|(_, face)| face).collect()
    };
    let with = |sight: FaceSet| {
        let settings = Settings { sight: Some(sight), ..Settings::default() };
        annotate(&Study::new(&source, 1, record), &settings).facts
    };
    let all: Vec<Annotation> = (0..64).map(|bits| with(set(bits))).collect();
    for (bits, facts) in all.iter().enumerate() {
        assert_eq!(facts.sight, set(bits));
        Slow::new(facts).check();
    }
    let offer = |bits: usize, step: usize, like: &Offer| -> &Offer {
        all[bits].steps[step].offers.iter().find(|offer| offer.pair == like.pair).expect("the same are open")
    };
    let (mut tilts, mut others) = (0, 0);
    for (bits, facts) in all.iter().enumerate() {
        for (index, step) in facts.steps.iter().enumerate() {
            for late in step.offers.iter().filter(|offer| !offer.ready) {
                let more = late.more.as_ref().expect("some faces help");
                let added = (0..64).find(|&added| set(added) == more.faces).expect("a set of faces");
                assert_eq!(added & bits, 0, "they are not in sight");
                let shown = offer(bits | added, index, late);
                assert!(shown.ready && shown.found_at() == Some(more.from));
                // A tilt shows a side; it is told where it does, and else the fewest faces that do.
                let helps = |&added: &usize| added & bits == 0 && offer(bits | added, index, late).ready;
                let is_side =
                    |&added: &usize| set(added).iter().all(|face| matches!(face, Face::L | Face::R));
                let tilt = (1..64_usize).filter(is_side).filter(helps).map(usize::count_ones).min();
                assert_eq!(more.tilt, tilt.is_some());
                let fewest = (1..64_usize).filter(helps).map(usize::count_ones).min();
                assert_eq!(Some(added.count_ones()), tilt.or(fewest));
                assert!(!more.tilt || is_side(&added));
                *(if more.tilt { &mut tilts } else { &mut others }) += 1;
            }
        }
    }
    assert!(tilts >= 50 && others >= 50, "{tilts} {others}");
}

/// Design section 5: at 10,000 positions with the cross solved and the rest at random.
#[test]
fn with_no_corner_up_every_open_slot_holds_an_open_corner() {
    let mut random = crate::support::random::Random::new(42);
    let phrases: Vec<Vec<Move>> = ["R", "L", "F", "B"]
        .into_iter()
        .flat_map(|side| {
            let around = move |u: &str| [format!("{side} {u} {side}'"), format!("{side}' {u} {side}")];
            ["U", "U2", "U'"].into_iter().flat_map(around)
        })
        .map(|text| read::moves(&text))
        .collect();
    let turns = [read::moves("U"), read::moves("U2"), read::moves("U'")];
    // White down.
    let mut space = Space::played(&read::moves("x2"));
    let mut met = 0;
    for _ in 0..10_000 {
        for _ in 0..6 {
            for &mv in phrases[random.below(phrases.len())].iter().chain(&turns[random.below(3)]) {
                space.play(mv);
            }
        }
        assert!(space.cross_is_solved(Colour::White));
        met += usize::from(fact_holds(&space, Colour::White));
    }
    // The chance that all four corners up are of the last layer is 1 in 70 (8 choose 4): 143 of 10,000.
    assert!((90..200).contains(&met), "{met}");
}
