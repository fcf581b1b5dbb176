//! Elimination the slow and obvious way: read the stickers in sight off the model in space, try every
//! assignment of the remaining pieces to the remaining places, and see where each piece can be.

use std::collections::{BTreeMap, BTreeSet};

use cornerwise::cube::{Colour, Face, FaceSet};

use super::space::{Space, Sticker, Vector, direction};

/// A piece, named by its colours in the order of the enum.
pub type Name = Vec<Colour>;

/// What is still to be found at one moment: as many pieces as places.
pub struct Case {
    /// The pieces, colours clockwise as seen from outside.
    pub pieces: Vec<Vec<Colour>>,
    /// What each place shows, clockwise: `None` for a side that is out of sight.
    pub places: Vec<Vec<Option<Colour>>>,
    /// The piece that really sits in each place.
    pub holds: Vec<Name>,
}

/// The name of the piece with these colours.
pub fn name(colours: &[Colour]) -> Name {
    let mut name = colours.to_vec();
    name.sort();
    name
}

/// The stickers of every corner (`sides` 3) or edge (2), clockwise as seen from outside.
fn cubies(space: &Space, sides: usize) -> Vec<Vec<Sticker>> {
    let mut at: BTreeMap<Vector, Vec<Sticker>> = BTreeMap::new();
    for &sticker in &space.stickers {
        at.entry(sticker.position).or_default().push(sticker);
    }
    let mut cubies: Vec<Vec<Sticker>> = at.into_values().filter(|stickers| stickers.len() == sides).collect();
    for stickers in &mut cubies {
        // U, R, F is clockwise as seen from outside, and the determinant of their directions is -1.
        if let [a, b, c] = stickers[..]
            && determinant(a.normal, b.normal, c.normal) > 0
        {
            stickers.swap(1, 2);
        }
    }
    cubies
}

fn determinant(a: Vector, b: Vector, c: Vector) -> i8 {
    a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
        + a[2] * (b[0] * c[1] - b[1] * c[0])
}

fn in_sight(sticker: &Sticker, sight: FaceSet) -> bool {
    Face::ALL.into_iter().any(|face| sight.contains(face) && direction(face) == sticker.normal)
}

/// How many stickers of the piece are in sight.
pub fn stickers_in_sight(space: &Space, piece: &[Colour], sight: FaceSet) -> usize {
    let cubies = cubies(space, piece.len());
    let found = cubies.iter().find(|cubie| {
        let colours: Vec<Colour> = cubie.iter().map(|sticker| sticker.colour).collect();
        name(&colours) == name(piece)
    });
    found.expect("every piece is somewhere").iter().filter(|sticker| in_sight(sticker, sight)).count()
}

/// The corners or edges that are not known yet, and their places.
pub fn remaining(space: &Space, sides: usize, known: &BTreeSet<Name>, sight: FaceSet) -> Case {
    let colours = |cubie: &Vec<Sticker>| cubie.iter().map(|sticker| sticker.colour).collect::<Vec<_>>();
    let unknown = |cubie: &Vec<Sticker>| !known.contains(&name(&colours(cubie)));
    let here: Vec<Vec<Sticker>> = cubies(space, sides).into_iter().filter(unknown).collect();
    // The pieces are read off a solved cube, so that nothing of where they are is carried over.
    let pieces = cubies(&Space::solved(), sides).into_iter().filter(unknown).map(|c| colours(&c)).collect();
    let shown = |cubie: &Vec<Sticker>| {
        cubie.iter().map(|sticker| in_sight(sticker, sight).then_some(sticker.colour)).collect()
    };
    Case {
        pieces,
        places: here.iter().map(shown).collect(),
        holds: here.iter().map(|cubie| name(&colours(cubie))).collect(),
    }
}

impl Case {
    /// Whether the piece could show what the place shows.
    fn fits(&self, piece: usize, place: usize) -> bool {
        let (piece, shown) = (&self.pieces[piece], &self.places[place]);
        let n = piece.len();
        (0..n).any(|shift| (0..n).all(|i| shown[i].is_none_or(|colour| colour == piece[(i + shift) % n])))
    }

    /// For each piece, by name, the places (named by the pieces really there) it has in any assignment that
    /// agrees with what is shown. Every assignment is made.
    pub fn every_assignment(&self) -> BTreeMap<Name, BTreeSet<Name>> {
        let mut places = vec![BTreeSet::new(); self.pieces.len()];
        self.assign(&mut Vec::new(), &mut places);
        let names = self.pieces.iter().map(|piece| name(piece));
        names
            .zip(places.into_iter().map(|set| set.iter().map(|&p: &usize| self.holds[p].clone()).collect()))
            .collect()
    }

    fn assign(&self, chosen: &mut Vec<usize>, places: &mut [BTreeSet<usize>]) {
        let piece = chosen.len();
        if piece == self.pieces.len() {
            for (set, &place) in places.iter_mut().zip(chosen.iter()) {
                set.insert(place);
            }
            return;
        }
        for place in 0..self.places.len() {
            if !chosen.contains(&place) && self.fits(piece, place) {
                chosen.push(place);
                self.assign(chosen, places);
                chosen.pop();
            }
        }
    }
}
