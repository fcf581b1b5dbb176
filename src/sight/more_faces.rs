//! What the grip hid: the fewest further faces that would have shown a piece in time.

use crate::cube::{Face, FaceSet, Pair};

use super::grades::Looked;
use super::{Moments, Piece};

/// The easiest face to bring into sight first: tilt the cube to see the left, look over it at the back, lift
/// it to see what is below; then the faces most grips show anyway.
const EASIEST: [Face; 6] = [Face::L, Face::B, Face::D, Face::R, Face::F, Face::U];

/// Faces that would have shown what was hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoreFaces {
    /// The faces to add to those in sight.
    pub faces: FaceSet,
    /// The first offset at which all the pieces would have been seen.
    pub from: usize,
}

/// The smallest set of faces that, added to `sight`, shows all of `pieces` at or before the offset
/// `deadline` (see [`Moments::deadline`]); `None` if they were seen in time without.
///
/// Of sets of one size the one with the easiest faces is taken: left before back before below (then right,
/// front, up), compared face by face.
#[must_use]
pub fn fewest_more_faces(
    step: Moments,
    pieces: &[Piece],
    sight: FaceSet,
    deadline: usize,
) -> Option<MoreFaces> {
    let all_seen =
        |sight: FaceSet| pieces.iter().try_fold(0, |last, &piece| Some(step.seen(piece, sight)?.max(last)));
    let in_time = |sight: FaceSet| all_seen(sight).filter(|&offset| offset <= deadline);
    if in_time(sight).is_some() {
        return None;
    }
    sets_of(FaceSet::ALL, sight)
        .find_map(|faces| in_time(sight.union(faces)).map(|from| MoreFaces { faces, from }))
}

/// The sets of one or more of these faces that are not in sight, smallest first, of one size the easiest first.
fn sets_of(among: FaceSet, sight: FaceSet) -> impl Iterator<Item = FaceSet> {
    let hidden: Vec<Face> =
        EASIEST.into_iter().filter(|&face| among.contains(face) && !sight.contains(face)).collect();
    // The first hidden face is the highest bit, so that of sets of one size the greater number is easier.
    let n = hidden.len();
    let mut sets: Vec<u32> = (1..1 << n).collect();
    sets.sort_by_key(|&set| (set.count_ones(), std::cmp::Reverse(set)));
    sets.into_iter()
        .map(move |set| (0..n).filter(|i| set >> (n - 1 - i) & 1 != 0).map(|i| hidden[i]).collect())
}

impl Looked<'_> {
    /// The fewest faces that, in sight through the whole step too, would have made a late pair ready, and the offset
    /// at which both its pieces would have been found; `None` if it is ready without, or no faces help.
    ///
    /// # Panics
    ///
    /// If the pair is not open or is in hand.
    #[must_use]
    pub fn further_faces(&self, pair: Pair, lead: usize) -> Option<MoreFaces> {
        self.with_more_of(FaceSet::ALL, pair, lead)
    }

    /// The same with the side face alone that is not in sight: left for those who hold the cube so that right is, or
    /// the other way round. That is what hands do, a tilt; nobody looks at the back or from below.
    ///
    /// # Panics
    ///
    /// If the pair is not open or is in hand.
    #[must_use]
    pub fn tilt(&self, pair: Pair, lead: usize) -> Option<MoreFaces> {
        self.with_more_of(FaceSet::of(&[Face::L, Face::R]), pair, lead)
    }

    fn with_more_of(&self, among: FaceSet, pair: Pair, lead: usize) -> Option<MoreFaces> {
        if self.left(pair, lead).ready {
            return None;
        }
        sets_of(among, self.sight).find_map(|faces| {
            let left = self.with_sight(self.sight.union(faces)).left(pair, lead);
            let from = left.corner.found()?.max(left.edge.found()?);
            left.ready.then_some(MoreFaces { faces, from })
        })
    }
}
