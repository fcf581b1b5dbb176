//! What the grip hid: the fewest further faces that would have shown a pair in time.

use crate::cube::{Face, FaceSet, Pair};

use super::grades::Looked;

/// The easiest face to bring into sight first: tilt the cube to see the left, look over it at the back, lift
/// it to see what is below; then the faces most grips show anyway.
const EASIEST: [Face; 6] = [Face::L, Face::B, Face::D, Face::R, Face::F, Face::U];

/// Faces that would have shown what was hidden.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MoreFaces {
    /// The faces to add to those in sight.
    pub faces: FaceSet,
    /// The first offset at which all the pieces would have been found.
    pub from: usize,
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
