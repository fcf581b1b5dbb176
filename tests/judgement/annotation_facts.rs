//! The finished annotation against its definitions (`docs/method.md`), worked out a second time, slowly, from
//! stickers in space: places, tiers, what was on offer, seen, lead and outcome, lengths, holds, lanes.

use std::fs;

use crate::support::read;
use crate::support::slow_steps::slow_split;
use crate::support::solver::{Marks, Options, Rng, Solver, Style};
use crate::support::space::{self, Space};
use cornerwise::annotate::{Settings, annotate};
use cornerwise::annotation::{Annotation, Judged, Next, SpotSight, Step, StepKind, Watch};
use cornerwise::cube::{Colour, Face, FaceSet, Move};
use cornerwise::diagnostic::Source;
use cornerwise::record;
use cornerwise::scan::Tier;
use cornerwise::sight::Outcome;
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

    /// The first moment of a stretch at which two stickers of the piece are in sight.
    fn seen(&self, from: usize, to: usize, colours: &[Colour], sight: &[Face]) -> Option<usize> {
        (from..=to).find(|&moment| self.visible(moment, colours, sight) >= 2)
    }

    fn corner(&self, pair: Pair) -> [Colour; 3] {
        [self.cross, pair[0], pair[1]]
    }

    /// The lead that the stretch leaves for a pair, and the outcome, with three turns (or the whole step) enough.
    fn left(&self, from: usize, to: usize, pair: Pair, sight: &[Face]) -> (Option<usize>, Outcome) {
        let corner = self.seen(from, to, &self.corner(pair), sight);
        let edge = self.seen(from, to, &pair, sight);
        let lead = corner.zip(edge).map(|(corner, edge)| obtm(&self.moves[corner.max(edge)..to]));
        let outcome = if !self.moments[to].is_up(self.cross, &self.corner(pair)) {
            Outcome::Down
        } else if lead.is_some_and(|lead| lead >= obtm(&self.moves[from..to]).min(3)) {
            Outcome::Ready
        } else {
            Outcome::Up
        };
        (lead, outcome)
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
        let scans = matches!(step.kind, StepKind::Cross | StepKind::Pair) && !offered.is_empty();
        assert_eq!(step.scan.is_some(), scans, "{}", step.name);
        let Some(scan) = &step.scan else {
            assert!(step.next.is_empty());
            return;
        };
        let end = &self.moments[step.to];
        let filled: &[Pair] = if step.kind == StepKind::Pair { pairs } else { &[] };
        let tier = |pair: Pair| space::tier(space, end, self.cross, pair, filled);
        for (found, word) in Tier::ALL.into_iter().zip(["top", "target", "lifted", "slot"]) {
            let by_definition = names(offered.iter().copied().filter(|&pair| tier(pair) == word));
            let told: Vec<String> = scan.tier(found).iter().map(ToString::to_string).collect();
            assert_eq!(told, by_definition, "{} {word}", step.name);
        }
        let rank = |pair: Pair| ["top", "target", "lifted", "slot"].iter().position(|&t| t == tier(pair));
        let best = offered.iter().map(|&pair| rank(pair)).min().flatten();
        assert_eq!(scan.best, best.map(|rank| Tier::ALL[rank]));
        assert_eq!(scan.offers.len(), offered.len());
        assert!(scan.offers.is_sorted_by_key(|offer| offer.tier));
        for &pair in &offered {
            let offer =
                scan.offers.iter().find(|offer| offer.pair.to_string() == pair_name(pair)).expect("offered");
            assert_eq!(format!("{:?}", offer.tier).to_lowercase(), tier(pair));
            assert_eq!(offer.corner.to_string(), space.place(&self.corner(pair)));
            assert_eq!(offer.edge.to_string(), space.place(&pair));
            assert_eq!(offer.outcome, Some(self.left(step.from, step.to, pair, &self.sight).1));
        }

        let next: Vec<Pair> = match self.steps.get(i + 1) {
            Some((Kind::Pair, _, pairs)) => pairs.clone(),
            _ => Vec::new(),
        };
        assert_eq!(step.next.len(), next.len());
        let chosen = next.iter().map(|&pair| rank(pair)).min();
        assert_eq!(scan.passed_over, chosen.is_some_and(|chosen| chosen > best));
        for pair in next {
            let told =
                step.next.iter().find(|next| next.pair.to_string() == pair_name(pair)).expect("told of");
            assert_eq!(format!("{:?}", told.tier).to_lowercase(), tier(pair));
            self.check_next(step, told, pair);
        }
    }

    fn check_next(&self, step: &Step, next: &Next, pair: Pair) {
        let corner = self.corner(pair);
        let (from, to) = (&self.moments[step.from], &self.moments[step.to]);
        let buried = from.is_up(self.cross, &corner) && !to.is_up(self.cross, &corner);
        assert_eq!(next.buried, buried);
        self.check_watch(step, &next.corner, &corner);
        self.check_watch(step, &next.edge, &pair);
        let (lead, outcome) = self.left(step.from, step.to, pair, &self.sight);
        assert_eq!(next.lead, lead);
        assert_eq!(next.outcome, Some(outcome));
        self.check_more(step, next, pair);
    }

    fn check_watch(&self, step: &Step, watch: &Watch, colours: &[Colour]) {
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
        let seen = self.seen(step.from, step.to, colours, &self.sight);
        assert_eq!(watch.seen, seen);
        // `known` itself is held against every assignment in `tests/judgement/sight.rs`.
        let within = |moment: Option<usize>| moment.is_none_or(|m| (step.from..=step.to).contains(&m));
        assert!(within(watch.known) && within(watch.oriented));
        assert!(seen.is_none_or(|seen| watch.known.is_some_and(|known| known <= seen)));
        assert!(seen.is_none_or(|seen| watch.oriented.is_some_and(|oriented| oriented <= seen)));
        assert!(watch.oriented.is_none_or(|oriented| watch.known.is_some_and(|known| known <= oriented)));
    }

    /// `more` names the fewest further faces with which corner and edge are seen with lead enough.
    fn check_more(&self, step: &Step, next: &Next, pair: Pair) {
        let needed = step.obtm.min(3);
        let lead = |sight: &[Face]| self.left(step.from, step.to, pair, sight).0;
        let in_time = |sight: &[Face]| lead(sight).is_some_and(|lead| lead >= needed);
        let with = |bits: usize| -> Vec<Face> {
            let extra = Face::ALL.into_iter().enumerate().filter(|(i, _)| bits >> i & 1 != 0);
            self.sight.iter().copied().chain(extra.map(|(_, face)| face)).collect()
        };
        let fewest = (0..64_usize).filter(|&bits| in_time(&with(bits))).map(usize::count_ones).min();
        match &next.more {
            None => assert_eq!(fewest, Some(0), "{}: some faces would have shown it", step.text),
            Some(more) => {
                assert_eq!(Some(more.faces.len() as u32), fewest);
                let faces = Face::ALL.into_iter().filter(|&face| more.faces.contains(face));
                let sight: Vec<Face> = self.sight.iter().copied().chain(faces).collect();
                assert!(in_time(&sight));
                let corner = self.seen(step.from, step.to, &self.corner(pair), &sight);
                let edge = self.seen(step.from, step.to, &pair, &sight);
                assert_eq!(Some(more.from), corner.max(edge));
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
                for (spot, colours) in [(&cell.corner, &corner[..]), (&cell.edge, &pair[..])] {
                    assert_eq!(spot.place.to_string(), space.place(colours));
                    assert_eq!(spot.up, space.is_up(self.cross, colours));
                    assert_eq!(
                        spot.sight == SpotSight::Seen,
                        self.visible(moment, colours, &self.sight) >= 2
                    );
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

    /// The fact at the end of design section 5, where a step begins or ends with the cross solved.
    fn check_fact(&self) -> usize {
        let boundaries = self.facts.steps.iter().filter(|step| step.scan.is_some()).map(|step| step.to);
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
    let (mut tiers, mut outcomes, mut more, mut two, mut passed_over, mut buried) =
        ([0; 4], [0; 3], 0, 0, 0, 0);
    for facts in made(90, 41) {
        let slow = Slow::new(&facts);
        slow.check();
        slow.check_fact();
        for step in &facts.steps {
            two += usize::from(step.next.len() > 1);
            passed_over += usize::from(step.scan.as_ref().is_some_and(|scan| scan.passed_over));
            for next in &step.next {
                tiers[next.tier as usize] += 1;
                outcomes[next.outcome.expect("there is one") as usize] += 1;
                more += usize::from(next.more.is_some());
                buried += usize::from(next.buried);
            }
        }
    }
    // Made solves meet everything there is to be wrong about.
    assert!(tiers.iter().all(|&n| n >= 10), "{tiers:?}");
    assert!(outcomes.iter().all(|&n| n >= 20), "{outcomes:?}");
    assert!(
        more >= 40 && two >= 3 && passed_over >= 20 && buried >= 3,
        "{more} {two} {passed_over} {buried}"
    );
}

/// What other faces in sight change.
#[test]
fn another_sight_is_judged_as_defined_too() {
    let text = include_str!("../../reconstructions/tilted-for-the-left.yaml");
    let source = Source::new("tilted", text);
    let record = &record::read(&source).records[0];
    for bits in 0..64 {
        let faces = Face::ALL.into_iter().enumerate().filter(|(i, _)| bits >> i & 1 != 0);
        let sight: FaceSet = faces.map(|(_, face)| face).collect();
        let settings = Settings { sight: Some(sight), ..Settings::default() };
        let facts = annotate(&Study::new(&source, 1, record), &settings).facts;
        assert_eq!(facts.sight, sight);
        Slow::new(&facts).check();
    }
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
