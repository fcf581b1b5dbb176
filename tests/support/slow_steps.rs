//! Cutting a solve into steps by the words of the definition (docs/method.md, Steps), read off the stickers in
//! space: slow, obvious, and apart from the program's own.

use cornerwise::cube::{Amount, Colour, Face, Move};
use cornerwise::steps::Kind;

use super::space::{self, Space};

/// A step by the definition: its kind, the moment it ends, the pairs it brings (side colours, sorted).
pub type Slow = (Kind, usize, Vec<[Colour; 2]>);

/// The steps of a solve that finishes its first two layers, and the colour of its cross.
pub fn slow_split(scramble: &[Move], solution: &[Move]) -> (Colour, Vec<Slow>) {
    let mut space = Space::played(scramble);
    let mut moments = vec![space.clone()];
    for &mv in solution {
        space.play(mv);
        moments.push(space.clone());
    }
    let last = solution.len();
    let mut steps: Vec<Slow> = Vec::new();

    let mut inspection = solution.iter().take_while(|mv| matches!(mv, Move::Rotation(..))).count();

    // Which pairs are solved at a moment at which the cross is; nothing if it is not.
    let pairs_at = |moment: usize, cross: Colour| -> Option<Vec<[Colour; 2]>> {
        let space: &Space = &moments[moment];
        space.cross_is_solved(cross).then(|| {
            space::pairs_of(cross).into_iter().filter(|&pair| space.pair_is_solved(cross, pair)).collect()
        })
    };
    // The colour whose cross and four pairs are first complete; ties to the earlier cross.
    let (_, _, cross) = Colour::ALL
        .into_iter()
        .filter_map(|colour| {
            let complete = (0..=last).find(|&m| pairs_at(m, colour).is_some_and(|pairs| pairs.len() == 4))?;
            let crossed = (0..=last).find(|&m| pairs_at(m, colour).is_some())?;
            Some((complete, crossed, colour))
        })
        .min()
        .expect("some colour's first two layers are completed");

    if pairs_at(0, cross).is_some() {
        let down = |&m: &usize| moments[m].face_opposite(cross) == Face::U;
        inspection = (0..=inspection).find(down).unwrap_or(inspection);
    }
    if inspection > 0 {
        steps.push((Kind::Inspection, inspection, Vec::new()));
    }
    let mut at = (inspection..=last).find(|&m| pairs_at(m, cross).is_some()).expect("there is a cross");
    if (0..inspection).any(|m| pairs_at(m, cross).is_some()) {
        at = inspection;
    }
    let mut solved = pairs_at(at, cross).expect("the cross is solved");
    steps.push((Kind::Cross, at, solved.clone()));
    while solved.len() < 4 {
        let superset = |pairs: &Vec<[Colour; 2]>| {
            pairs.len() > solved.len() && solved.iter().all(|pair| pairs.contains(pair))
        };
        let found = (at..=last).find_map(|m| Some((m, pairs_at(m, cross).filter(superset)?)));
        let (moment, now) = found.expect("all four come in");
        let new = now.iter().copied().filter(|pair| !solved.contains(pair)).collect();
        steps.push((Kind::Pair, moment, new));
        (at, solved) = (moment, now);
    }

    let two_layers = |m: usize| pairs_at(m, cross).is_some_and(|pairs| pairs.len() == 4);
    let oriented = |m: usize| two_layers(m) && moments[m].is_uniform(moments[m].face_opposite(cross));
    let permuted = |m: usize| {
        let top = moments[m].face_opposite(cross);
        (0..4).any(|quarters| {
            let mut turned = moments[m].clone();
            (0..quarters).for_each(|_| turned.play(Move::Turn(top, Amount::Quarter)));
            turned.all_faces_are_uniform()
        })
    };
    let solved_at = |m: usize| moments[m].all_faces_are_uniform();
    let orient = (at..=last).find(|&m| oriented(m));
    let permute = orient.and_then(|from| (from..=last).find(|&m| permuted(m)));
    let adjust = permute.and_then(|from| (from..=last).find(|&m| solved_at(m)));
    if orient.is_some_and(|m| m > at) {
        let kind = if permute == orient { Kind::LastLayer } else { Kind::Orient };
        steps.push((kind, orient.expect("just seen"), Vec::new()));
    }
    if permute > orient {
        steps.push((Kind::Permute, permute.expect("it is later"), Vec::new()));
    }
    if adjust > permute {
        steps.push((Kind::Adjust, adjust.expect("it is later"), Vec::new()));
    }
    // Rotations of a solved cube belong to the last step; anything else that is left is the rest.
    let end = steps.last_mut().expect("there is a cross step");
    if end.1 < last {
        if solved_at(last) && solution[end.1..].iter().all(|mv| matches!(mv, Move::Rotation(..))) {
            end.1 = last;
        } else {
            steps.push((Kind::Rest, last, Vec::new()));
        }
    }
    (cross, steps)
}
