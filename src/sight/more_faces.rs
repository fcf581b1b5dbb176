//! What the grip hid: the fewest further faces that would have shown a piece in time.

use crate::cube::{Face, FaceSet};

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
    let hidden: Vec<Face> = EASIEST.into_iter().filter(|&face| !sight.contains(face)).collect();
    // The first hidden face is the highest bit, so that of sets of one size the greater number is easier.
    let n = hidden.len();
    let mut sets: Vec<u32> = (1..1 << n).collect();
    sets.sort_by_key(|&set| (set.count_ones(), std::cmp::Reverse(set)));
    sets.into_iter().find_map(|set| {
        let faces: FaceSet = (0..n).filter(|i| set >> (n - 1 - i) & 1 != 0).map(|i| hidden[i]).collect();
        in_time(sight.union(faces)).map(|from| MoreFaces { faces, from })
    })
}
