//! What seen and known cost for a whole solve. Run with `cargo bench --bench sight`.

use cornerwise::cube::{Amount, Axis, Colour, Face, FaceSet, Move, Pair, Position};
use cornerwise::sight::grades::Looked;
use cornerwise::sight::{DEFAULT_LEAD, InSight, Moments, Piece, Pieces, Watch};

fn main() {
    divan::main();
}

/// Up, front and right.
const SIGHT: FaceSet = FaceSet::of(&[Face::U, Face::F, Face::R]);

/// A step: its moments, its moves and the pairs known from its start.
struct Step {
    positions: Vec<Position>,
    moves: Vec<Move>,
    given: Vec<Pair>,
}

/// Sixty turns and a few rotations: a cross of eight, four pair steps of eight, a last layer of twenty. What
/// they solve does not matter for the work; that every corner and edge starts out scrambled does.
fn solve() -> Vec<Step> {
    let turn = |face, amount| Move::Turn(face, amount);
    let scramble = (0..25).map(|i| turn(Face::ALL[i * 7 % 6], Amount::ALL[i % 3]));
    let mut position = Position::SOLVED.after(scramble);
    let pairs = Pair::all(Colour::White);
    let mut steps = Vec::new();
    for (n, length) in [8, 8, 8, 8, 8, 20].into_iter().enumerate() {
        let mut moves: Vec<Move> = (0..length)
            .map(|i| turn([Face::R, Face::U, Face::F, Face::U][i % 4], Amount::ALL[(i + n) % 3]))
            .collect();
        if n % 2 == 1 {
            moves.insert(0, Move::Rotation(Axis::Y, Amount::Quarter));
        }
        let mut positions = vec![position];
        for &mv in &moves {
            position.play(mv);
            positions.push(position);
        }
        steps.push(Step { positions, moves, given: pairs[..n.min(4)].to_vec() });
    }
    steps
}

/// Elimination at every moment of all six steps: how many moments, and how many pieces were known at the ends of
/// the steps, summed.
fn watch_all(steps: &[Step], sight: FaceSet) -> (usize, usize) {
    steps
        .iter()
        .map(|step| {
            let given = Pieces::cross_and(Colour::White, step.given.iter().copied());
            Watch::new(divan::black_box(&step.positions), given, sight)
        })
        .map(|watch| (watch.len(), watch.known_at(watch.len() - 1).len()))
        .fold((0, 0), |sum, one| (sum.0 + one.0, sum.1 + one.1))
}

/// As a rule all but a few of the 120 pieces of six steps get known, most of them early.
#[divan::bench]
fn known_for_a_whole_solve(bencher: divan::Bencher) {
    let steps = solve();
    assert_eq!(watch_all(&steps, SIGHT), (69, 117));
    bencher.bench(|| watch_all(&steps, SIGHT));
}

/// The worst case: nothing in sight, so nothing is ever settled. What is given are six times the four cross
/// edges and 0, 1, 2, 3, 4 and 4 pairs.
#[divan::bench]
fn known_with_nothing_in_sight(bencher: divan::Bencher) {
    let steps = solve();
    assert_eq!(watch_all(&steps, FaceSet::EMPTY), (69, 6 * 4 + 2 * 14));
    bencher.bench(|| watch_all(&steps, FaceSet::EMPTY));
}

/// What each of the four pair steps leaves of every pair that is open then and not in hand: how many are ready.
#[divan::bench]
fn left_by_the_pairs_of_a_whole_solve(bencher: divan::Bencher) {
    let steps = solve();
    let pairs = Pair::all(Colour::White);
    let ready = || {
        let mut ready = 0;
        for (n, step) in steps[1..5].iter().enumerate() {
            let moments = Moments::new(divan::black_box(&step.positions), &step.moves);
            let looked = Looked::new(moments, Colour::White, &pairs[n..], &pairs[n..=n], SIGHT);
            ready += pairs[n + 1..].iter().filter(|&&pair| looked.left(pair, DEFAULT_LEAD).ready).count();
        }
        ready
    };
    assert!((1..=6).contains(&ready()));
    bencher.bench(ready);
}

/// The question a search asks most: is the corner seen now, is the edge? For a whole solve and all four pairs.
#[divan::bench]
fn seen_look_ups(bencher: divan::Bencher) {
    let steps = solve();
    let pairs = Pair::all(Colour::White);
    let look_ups = || {
        let mut seen = 0;
        for step in &steps {
            for position in divan::black_box(&step.positions) {
                let sight = InSight::new(position.hold, SIGHT);
                for pair in &pairs {
                    seen += usize::from(sight.sees_corner(position.state.corner(pair.corner)));
                    seen += usize::from(sight.sees_edge(position.state.edge(pair.edge)));
                }
            }
        }
        seen
    };
    let slow: usize = steps
        .iter()
        .flat_map(|step| &step.positions)
        .map(|position| {
            let sight = InSight::new(position.hold, SIGHT);
            let pieces = pairs.iter().flat_map(|pair| [Piece::Corner(pair.corner), Piece::Edge(pair.edge)]);
            pieces.filter(|&piece| sight.sees(piece, position)).count()
        })
        .sum();
    assert_eq!(look_ups(), slow);
    bencher.bench(look_ups);
}
