//! Which solves a text holds: the borders between them, between scramble and solution, and what the words leave open,
//! decided by the replay. A reading that solves the cube wins: by chance that does not happen.
//!
//! All work is counted in bytes put together and read; past the budget only the plainest reading is tried.

use crate::cube::{Colour, Face, Pair, Position};
use crate::notation::{self, Element, Turns};
use crate::replay::Replay;
use crate::steps::{self, claims};

use super::compose::{Choice, Composed};
use super::document::{Document, Start};
use super::line::Piece;
use super::words::Role;

/// How well a reading comes out, the best last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Rank {
    /// Nothing to play.
    Empty,
    /// Not solved at its end.
    Unsolved,
    /// One turn short of solved.
    Short,
    Solved,
}

/// One solve as chosen.
#[derive(Debug, Clone)]
pub(super) struct Draft {
    pub(super) scramble: Vec<usize>,
    pub(super) solution: Vec<usize>,
    /// Turns behind the solved cube, set aside.
    pub(super) aside: Vec<usize>,
    /// The first item behind a cube that was solved on the way, if the turns go on a good while.
    pub(super) beyond: Option<usize>,
    pub(super) choice: Choice,
    pub(super) rank: Rank,
    pub(super) below: bool,
    /// The readings that stay possible, if the replay does not decide.
    pub(super) open: Vec<(Choice, String)>,
}

impl Draft {
    /// The same up to the first time that the cube is solved.
    fn up_to_solved(mut self) -> Draft {
        if let Some(first) = self.beyond.take() {
            self.aside = self.solution.iter().copied().filter(|&n| n >= first).collect();
            self.solution.retain(|&n| n < first);
        }
        self
    }
}

/// What the text came to.
#[derive(Debug)]
pub(super) struct Decision {
    /// The readings of the whole, the best first: more than one if two stay possible.
    pub(super) readings: Vec<Vec<Draft>>,
    /// Bytes put together on the way.
    pub(super) work: usize,
}

/// So many turns behind a solved cube that ends solved once more are no play of the hands: it is another solve.
pub(super) const GOING_ON: usize = 8;

/// How many of the starts that are not sure a solve may run over.
const LOOK_AHEAD: usize = 10;

/// The most doubtful pieces of which every combination is tried.
const EVERY: usize = 4;

pub(super) struct Decider<'a> {
    document: &'a Document,
    work: usize,
    budget: usize,
}

impl<'a> Decider<'a> {
    pub(super) fn new(document: &'a Document) -> Decider<'a> {
        Decider { document, work: 0, budget: 16 * 1024 + 64 * document.text().len() }
    }

    pub(super) fn decide(mut self) -> Decision {
        let starts = self.starts();
        let end = self.document.items.len();
        if starts.is_empty() {
            return Decision { readings: Vec::new(), work: self.work };
        }
        // The two cheapest ways to every start: cost, the start before, which way to that, and the solves between.
        struct Way {
            cost: f32,
            before: Option<(usize, usize)>,
            drafts: Vec<Draft>,
        }
        let mut ways: Vec<Vec<Way>> = vec![vec![Way { cost: 0.0, before: None, drafts: Vec::new() }]];
        ways.resize_with(starts.len() + 1, Vec::new);
        for n in 0..starts.len() {
            let costs: Vec<f32> = ways[n].iter().map(|way| way.cost).collect();
            if costs.is_empty() {
                continue;
            }
            let mut skipped = 0.0;
            let most = starts.len().min(n + LOOK_AHEAD);
            for (next, ways_there) in ways.iter_mut().enumerate().take(most + 1).skip(n + 1) {
                // Out of work: every start begins a solve.
                if self.work > self.budget && next > n + 1 {
                    break;
                }
                let to = starts.get(next).map_or(end, |start| start.0);
                let drafts = self.solves(starts[n].0, to);
                let own = match starts[n].1 {
                    _ if n == 0 => 0.0,
                    Start::Sure => 0.0,
                    Start::Likely => 0.5,
                    Start::Maybe => 1.0,
                };
                // What looked like a scramble is none if the cube is solved by it.
                let solved = drafts.iter().all(|draft| draft.rank == Rank::Solved && draft.aside.is_empty());
                let skipped_here = if solved { 0.0 } else { skipped };
                let cost: f32 = drafts.iter().map(cost).sum::<f32>() + own + skipped_here;
                for (which, before) in costs.iter().enumerate() {
                    ways_there.push(Way {
                        cost: before + cost,
                        before: Some((n, which)),
                        drafts: drafts.clone(),
                    });
                }
                ways_there.sort_by(|a, b| a.cost.total_cmp(&b.cost));
                ways_there.truncate(2);
                match starts.get(next).map(|start| start.1) {
                    None | Some(Start::Sure) => break,
                    Some(Start::Likely) => skipped += 7.0,
                    Some(Start::Maybe) => skipped += 2.0,
                }
            }
        }
        let last = starts.len();
        let path = |which: usize| -> Vec<Draft> {
            let (mut node, mut way) = (last, which);
            let mut from_the_end: Vec<&[Draft]> = Vec::new();
            while let Some((before, which)) = ways[node][way].before {
                from_the_end.push(&ways[node][way].drafts);
                (node, way) = (before, which);
            }
            from_the_end.into_iter().rev().flatten().cloned().collect()
        };
        let mut readings: Vec<Vec<Draft>> = (0..ways[last].len()).map(path).collect();
        let comes_out = |draft: &Draft| draft.rank >= Rank::Short && draft.beyond.is_none();
        let sure = readings.first().is_some_and(|best| best.iter().all(comes_out));
        let far = ways[last].len() < 2 || ways[last][1].cost - ways[last][0].cost >= 2.0;
        if sure || far {
            readings.truncate(1);
        }
        if let [only] = readings.as_slice()
            && only.iter().any(|draft| draft.beyond.is_some())
        {
            // Solved, and solved again: as it stands, or up to the first time.
            let cut = only.iter().cloned().map(Draft::up_to_solved).collect();
            readings.push(cut);
        }
        Decision { readings, work: self.work }
    }

    /// Where solves may begin. If the solution stands before its scramble, solves begin at solutions.
    fn starts(&self) -> Vec<(usize, Start)> {
        let items = &self.document.items;
        let is_turns = |n: &usize| items[*n].piece == Piece::Turns && items[*n].tokens > 0;
        let first = (0..items.len()).filter(is_turns).find(|&n| items[n].label.is_some());
        let scrambles = items.iter().any(|item| item.label == Some(Role::Scramble));
        let before = (0..items.len()).find(is_turns);
        if scrambles
            && first.is_some()
            && first == before
            && first.is_some_and(|n| items[n].label == Some(Role::Solution))
        {
            let labelled = (0..items.len()).filter(|&n| items[n].label == Some(Role::Solution));
            return labelled.map(|n| (n, Start::Sure)).collect();
        }
        let mut starts: Vec<(usize, Start)> = Vec::new();
        for (n, item) in items.iter().enumerate() {
            if let Some(start) = item.start {
                // Turns under no label before the first label: a scramble only if none is labelled.
                starts.push((n, start));
            } else if item.piece == Piece::Turns && item.label.is_some() && starts.is_empty() {
                starts.push((n, Start::Sure));
            }
        }
        starts
    }

    /// The solves in the items from `from` up to `to`: one, or several solutions of one scramble.
    fn solves(&mut self, from: usize, to: usize) -> Vec<Draft> {
        let items = &self.document.items;
        let turns: Vec<usize> =
            (from..to).filter(|&n| items[n].piece == Piece::Turns && items[n].tokens > 0).collect();
        let labelled = |role: Role| turns.iter().copied().filter(move |&n| items[n].label == Some(role));
        // A solution before its scramble.
        if items[from].label == Some(Role::Solution)
            && let Some(scramble) = labelled(Role::Scramble).next()
        {
            return vec![self.draft((scramble..to).collect(), (from..scramble).collect())];
        }
        // Steps from the first line on: the scramble was not pasted.
        let line = items[from].line;
        let no_scramble = items[from].label.is_none()
            && self.document.is_stepped(line)
            && self.document.lines[line].turns().count() == 1;
        if items[from].label == Some(Role::Solution) || no_scramble {
            return vec![self.draft(Vec::new(), (from..to).collect())];
        }
        let solutions: Vec<usize> = labelled(Role::Solution).collect();
        if let Some(&first) = solutions.first() {
            // Several labelled solutions of one scramble are several solves.
            let scramble: Vec<usize> = (from..first).collect();
            let mut drafts = Vec::new();
            for (n, &start) in solutions.iter().enumerate() {
                let end = solutions.get(n + 1).copied().unwrap_or(to);
                drafts.push(self.draft(scramble.clone(), (start..end).collect()));
            }
            return drafts;
        }
        // The turns are the same wherever the border is, so the replay says little: what looks like a scramble does.
        let mut best: Option<((Rank, std::cmp::Reverse<usize>), Draft)> = None;
        for (order, border) in self.borders(from, to, &turns).into_iter().enumerate() {
            let unlike = order + self.unlike_a_scramble(from, border);
            let better = |rank: Rank| {
                let key = (rank, std::cmp::Reverse(unlike));
                best.as_ref().is_none_or(|(best, _)| key > *best).then_some(key)
            };
            if better(Rank::Solved).is_none() || order > 0 && self.work > self.budget {
                continue;
            }
            let draft = self.draft((from..border).collect(), (border..to).collect());
            if let Some(key) = better(draft.rank) {
                best = Some((key, draft));
            }
        }
        // `Sune: R U …`, and nothing is solved: no scramble was pasted.
        let is_out = best.as_ref().is_some_and(|((rank, _), _)| *rank >= Rank::Short);
        if !is_out && items[from].label.is_none() && self.document.is_named(line) {
            return vec![self.draft(Vec::new(), (from..to).collect())];
        }
        let draft = best.map_or_else(|| self.draft((from..to).collect(), Vec::new()), |(_, draft)| draft);
        // What stands behind a solved cube may be another solution of the same scramble.
        if let Some(&next) = draft.aside.first() {
            let rest: Vec<usize> = (next..to).collect();
            let more = self.draft(draft.scramble.clone(), rest);
            if more.rank == Rank::Solved {
                let first = Draft { aside: Vec::new(), ..draft };
                return vec![first, more];
            }
        }
        vec![draft]
    }

    /// How unlike a scramble the turns are: too few or too many, rotations among them, or slices, or wide turns.
    fn unlike_a_scramble(&self, from: usize, to: usize) -> usize {
        let items = (from..to).map(|n| &self.document.items[n]).filter(|item| item.piece == Piece::Turns);
        let n_tokens: usize = items.clone().map(|item| item.tokens).sum();
        let length = match n_tokens {
            14..=26 => 0,
            8..=13 => 2,
            _ => 3,
        };
        let is_other = items.into_iter().any(|item| !self.document.is_scramble_like(item.line, item.segment));
        length + 3 * usize::from(is_other)
    }

    /// Where the scramble may end, the likeliest first.
    fn borders(&self, from: usize, to: usize, turns: &[usize]) -> Vec<usize> {
        let items = &self.document.items;
        let first = items[from].line;
        let later = |test: &dyn Fn(usize) -> bool| turns.iter().copied().find(|&n| n > from && test(n));
        let same_line = later(&|n| items[n].line == first);
        // Behind a comment sign or a bracket on the line of the scramble.
        let doubtful =
            (from + 1..to).find(|&n| items[n].line == first && items[n].doubtful && items[n].tokens >= 3);
        let next_line = later(&|n| items[n].line > first);
        let apart = self.document.next_border(first);
        let paragraph = later(&|n| apart.is_some_and(|line| items[n].line > line));
        let stepped = later(&|n| items[n].line > first && (self.document.is_stepped(items[n].line)));
        let labelled = items[from].label.is_some();
        let mut borders: Vec<usize> = Vec::new();
        let paragraph = paragraph.filter(|&n| stepped.is_none_or(|step| n <= step));
        // `R2 U F2 … | R U R'`: a scramble up to the sign.
        let whole = same_line.is_some() && (10..=26).contains(&items[from].tokens);
        let order = if same_line.is_some() && (next_line.is_none() || whole) {
            [same_line, doubtful, paragraph, next_line, stepped]
        } else if labelled {
            [paragraph, next_line, stepped, same_line, doubtful]
        } else {
            [paragraph, next_line, stepped, doubtful, same_line]
        };
        for border in order.into_iter().flatten() {
            if !borders.contains(&border) {
                borders.push(border);
            }
        }
        borders
    }

    fn compose(&mut self, items: &[usize], choice: &Choice, below: bool) -> Composed {
        let composed = self.document.compose(items, choice, below, &notation::Options::default());
        self.work += 16 + 6 * composed.turns.tokens.len();
        composed
    }

    /// Tries one division, with every way to take what is doubtful in it.
    fn draft(&mut self, scramble: Vec<usize>, solution: Vec<usize>) -> Draft {
        let below = self.document.is_below(&solution);
        let mut draft = Draft {
            scramble,
            solution,
            aside: Vec::new(),
            beyond: None,
            choice: Choice::default(),
            rank: Rank::Empty,
            below,
            open: Vec::new(),
        };
        let spots: Vec<usize> = self.spots(&draft);
        if spots.is_empty() {
            self.settle_doubts(&mut draft);
            return draft;
        }
        let ways: Vec<Vec<usize>> = if spots.len() <= 3 {
            (0..1_usize << spots.len())
                .map(|bits| {
                    spots.iter().enumerate().filter(|(n, _)| bits >> n & 1 == 1).map(|(_, &s)| s).collect()
                })
                .collect()
        } else {
            vec![Vec::new(), spots.clone()]
        };
        let mut tried: Vec<(Draft, (Rank, usize, usize))> = Vec::new();
        for rotations in ways {
            let mut way = Draft { choice: Choice { flipped: Vec::new(), rotations }, ..draft.clone() };
            self.settle_doubts(&mut way);
            let score = self.score(&way);
            tried.push((way, score));
        }
        let best = tried.iter().map(|(_, score)| *score).max();
        tried.retain(|(_, score)| Some(*score) == best);
        let open = tried.len() > 1;
        let told: Vec<(Choice, String)> = if open {
            tried.iter().map(|(way, _)| (way.choice.clone(), self.told(way, &spots))).collect()
        } else {
            Vec::new()
        };
        let mut chosen = tried.swap_remove(0).0;
        if open {
            chosen.open = told;
        }
        chosen
    }

    /// The spots in the solution of a draft.
    fn spots(&self, draft: &Draft) -> Vec<usize> {
        if self.document.spots.is_empty() {
            return Vec::new();
        }
        let has = |items: &[usize], item: usize| items.binary_search(&item).is_ok();
        let within = |item: usize| has(&draft.solution, item) || has(&draft.scramble, item);
        (0..self.document.spots.len()).filter(|&n| within(self.document.spots[n].item)).collect()
    }

    /// A reading in words: what was taken for what, and how the record ends then.
    fn told(&mut self, draft: &Draft, spots: &[usize]) -> String {
        let times = spots.iter().map(|spot| {
            if draft.choice.rotations.contains(spot) {
                "once, then the cube is turned over"
            } else {
                "the group twice"
            }
        });
        let mut times: Vec<&str> = times.collect();
        times.dedup();
        format!("{} ({})", times.join(", then "), self.ending(draft))
    }

    /// What is solved at the end of a draft, and how the cube is held.
    fn ending(&mut self, draft: &Draft) -> String {
        let scramble = self.compose(&draft.scramble, &draft.choice, false).turns;
        let solution = self.compose(&draft.solution, &draft.choice, draft.below).turns;
        let end = Position::SOLVED.after(scramble.playable().chain(solution.playable()));
        let up = format!("{} up", end.hold.colour(Face::U));
        if end.state.is_solved() {
            return format!("solved, {up}");
        }
        let pairs = |cross: Colour| -> Vec<String> {
            let solved = Pair::all(cross).into_iter().filter(|&pair| end.state.pair_solved(pair));
            solved.map(|pair| pair.to_string()).collect()
        };
        let crosses = Colour::ALL.into_iter().filter(|&cross| end.state.cross_solved(cross)).map(pairs);
        match crosses.max_by_key(Vec::len).as_deref() {
            None => format!("no cross at the end, {up}"),
            Some([]) => format!("the cross is solved at the end, {up}"),
            Some([first @ .., last]) => {
                let first: String = first.iter().map(|pair| format!(", {pair}")).collect();
                format!("cross{first} and {last} are solved at the end, {up}")
            }
        }
    }

    /// How far it comes, and how many of its claims hold.
    fn score(&mut self, draft: &Draft) -> (Rank, usize, usize) {
        let scramble = self.compose(&draft.scramble, &draft.choice, false).turns;
        let solution = self.compose(&draft.solution, &draft.choice, draft.below).turns;
        let replay = Replay::new(scramble.playable(), solution.playable());
        let solve = steps::split(&replay);
        let claims = claims::check(&solution, &solve, &replay);
        let held = claims.iter().filter(|claim| claim.holds).count();
        let state = replay.end().state;
        let kept = crate::cube::Colour::ALL
            .into_iter()
            .filter(|&cross| state.cross_solved(cross))
            .map(|cross| {
                4 + crate::cube::Pair::all(cross).into_iter().filter(|&pair| state.pair_solved(pair)).count()
            })
            .max();
        (draft.rank, held, kept.unwrap_or(0))
    }

    /// Takes what is doubtful as the replay has it; what it does not decide stays as it looks.
    fn settle_doubts(&mut self, draft: &mut Draft) {
        let plain = draft.choice.clone();
        let doubts: Vec<usize> = draft
            .scramble
            .iter()
            .chain(&draft.solution)
            .copied()
            .filter(|&n| {
                self.document.items[n].doubtful
                    && (self.document.items[n].tokens > 0 || self.document.items[n].piece == Piece::Words)
            })
            .collect();
        let mut ways: Vec<Vec<usize>> = vec![Vec::new()];
        if doubts.len() <= EVERY {
            ways.extend((1..1_usize << doubts.len()).map(|bits| {
                doubts.iter().enumerate().filter(|(n, _)| bits >> n & 1 == 1).map(|(_, &d)| d).collect()
            }));
        } else {
            ways.extend(doubts.iter().map(|&doubt| vec![doubt]));
            ways.push(doubts.clone());
        }
        let mut best: Option<(Played, Vec<usize>)> = None;
        for flipped in ways {
            if best.is_some() && self.work > self.budget {
                break;
            }
            let choice = Choice { flipped: flipped.clone(), ..plain.clone() };
            let played = self.play(draft, &choice);
            let rank = played.rank;
            if best.as_ref().is_none_or(|(best, _)| rank > best.rank) {
                best = Some((played, flipped));
            }
            if rank == Rank::Solved {
                break;
            }
        }
        if let Some((Played { rank, aside, beyond }, flipped)) = best {
            draft.rank = rank;
            draft.beyond = beyond;
            draft.choice.flipped = flipped;
            draft.solution.retain(|n| aside.first().is_none_or(|first| n < first));
            draft.aside = aside;
        }
    }

    /// Plays a draft.
    fn play(&mut self, draft: &Draft, choice: &Choice) -> Played {
        let scramble = self.compose(&draft.scramble, choice, false).turns;
        let solution = self.compose(&draft.solution, choice, false).turns;
        let came = |rank| Played { rank, aside: Vec::new(), beyond: None };
        if scramble.tokens.is_empty() || solution.tokens.is_empty() {
            return came(Rank::Empty);
        }
        let whole =
            |turns: &Turns| turns.tokens.iter().all(|token| matches!(token.element, Element::Move(_)));
        let mut position = Position::SOLVED.after(scramble.playable());
        if !whole(&scramble) || position.state.is_solved() {
            return came(Rank::Unsolved);
        }
        // The first time that the cube is solved with turns still to come.
        let mut solved_at = None;
        for (n, token) in solution.tokens.iter().enumerate() {
            let Element::Move(mv) = token.element else { break };
            position.play(mv);
            if position.state.is_solved() && solved_at.is_none() {
                solved_at = Some(n);
            }
        }
        let solved = whole(&solution) && position.state.is_solved();
        // What stands behind it, from the next line on.
        let behind = solved_at.filter(|n| n + 1 < solution.tokens.len()).and_then(|n| {
            let end = solution.tokens[n].span.end;
            let line_of = |item: usize| self.document.items[item].line;
            let place = |item: usize| {
                self.document.clean.place(self.document.segment(&self.document.items[item]).start)
            };
            let played = draft.solution.iter().copied().filter(|&item| self.document.is_played(item, choice));
            let last = played.clone().rfind(|&item| place(item) < end).map_or(0, line_of);
            let next = solution.tokens[n + 1].span.start;
            let first = played.clone().find(|&item| place(item) >= end && line_of(item) > last)?;
            (place(first) <= next).then_some((first, solution.tokens.len() - n - 1))
        });
        match behind {
            Some((first, n_more)) if solved => {
                Played { beyond: (n_more >= GOING_ON).then_some(first), ..came(Rank::Solved) }
            }
            None if solved => came(Rank::Solved),
            Some((first, _)) => {
                let aside = draft.solution.iter().copied().filter(|&item| item >= first).collect();
                Played { aside, ..came(Rank::Solved) }
            }
            None => {
                let short =
                    crate::cube::FaceTurn::ALL.iter().any(|&turn| position.state.turned(turn).is_solved());
                came(if short && whole(&solution) { Rank::Short } else { Rank::Unsolved })
            }
        }
    }
}

/// How a draft comes out when it is played.
struct Played {
    rank: Rank,
    /// Turns behind the solved cube.
    aside: Vec<usize>,
    /// Where turns go on behind a solved cube, to be solved once more.
    beyond: Option<usize>,
}

/// What a solve costs a reading.
fn cost(draft: &Draft) -> f32 {
    let own = match draft.rank {
        Rank::Solved => 0.0,
        Rank::Short => 1.0,
        Rank::Unsolved | Rank::Empty => 4.0,
    };
    own + if draft.aside.is_empty() { 0.0 } else { 1.0 } + if draft.beyond.is_some() { 4.0 } else { 0.0 }
}

impl Document {
    /// Whether the remarks of a stretch stand on lines of their own below the turns they are about.
    pub(super) fn is_below(&self, items: &[usize]) -> bool {
        let mut first_turns = None;
        let mut last_turns = None;
        let mut claims = Vec::new();
        for &n in items {
            let item = &self.items[n];
            if item.piece == Piece::Turns {
                first_turns = first_turns.or(Some(n));
                last_turns = Some(n);
            } else if super::words::is_step(self.item_text(item).trim_start_matches(['(', '[', '{', ' '])) {
                if self.lines[item.line].has_turns() {
                    return false;
                }
                claims.push(n);
            }
        }
        match (claims.first(), claims.last(), first_turns, last_turns) {
            (Some(first), Some(last), Some(first_turns), Some(last_turns)) => {
                *first > first_turns && *last > last_turns
            }
            _ => false,
        }
    }
}
