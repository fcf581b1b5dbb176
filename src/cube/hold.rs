//! How the cube sits in the hands.

use super::{Amount, Axis, Colour, ColourSet, Face, FaceSet};

/// Which centre is at which face: one of 24.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Hold {
    /// The centre at each face, in the order of [`Face::ALL`].
    at: [Colour; 6],
}

impl Hold {
    /// White up, green in front: the hold in which scrambles are applied (WCA Regulation 4d1).
    pub const START: Hold = Hold { at: Colour::ALL };

    /// All 24, ordered by the colour up, then the colour in front.
    pub const ALL: [Hold; 24] = all();

    /// The hold with these centres up and in front; `None` if they are the same or opposite colours.
    #[must_use]
    pub const fn new(up: Colour, front: Colour) -> Option<Hold> {
        if up as u8 / 2 == front as u8 / 2 {
            return None;
        }
        // The ring round `up`, read clockwise from outside, goes front, left, back, right.
        let ring = up.ring();
        let mut i = 0;
        while ring[i] as u8 != front as u8 {
            i += 1;
        }
        let left = ring[(i + 1) % 4];
        Some(Hold { at: [up, up.opposite(), front, front.opposite(), left.opposite(), left] })
    }

    /// The centre at `face`.
    #[must_use]
    pub const fn colour(self, face: Face) -> Colour {
        self.at[face as usize]
    }

    /// The face at which the centre `colour` lies.
    #[must_use]
    pub const fn face(self, colour: Colour) -> Face {
        let mut i = 0;
        while self.at[i] as u8 != colour as u8 {
            i += 1;
        }
        Face::ALL[i]
    }

    /// The centres at these faces.
    #[must_use]
    pub fn colours(self, faces: FaceSet) -> ColourSet {
        faces.iter().map(|face| self.colour(face)).collect()
    }

    /// The hold after turning the whole cube: about `x` as `R` turns, `y` as `U`, `z` as `F`
    /// (WCA Regulation 12a4).
    #[must_use]
    pub const fn rotated(self, axis: Axis, amount: Amount) -> Hold {
        let ring = axis.face().ring();
        let mut at = self.at;
        let mut i = 0;
        while i < 4 {
            // What was at ring[i] goes clockwise to the next face.
            at[ring[(i + amount as usize) % 4] as usize] = self.at[ring[i] as usize];
            i += 1;
        }
        Hold { at }
    }
}

const fn all() -> [Hold; 24] {
    let mut holds = [Hold::START; 24];
    let mut n = 0;
    let mut up = 0;
    while up < 6 {
        let mut front = 0;
        while front < 6 {
            if let Some(hold) = Hold::new(Colour::ALL[up], Colour::ALL[front]) {
                holds[n] = hold;
                n += 1;
            }
            front += 1;
        }
        up += 1;
    }
    holds
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn there_are_24_different_holds_and_rotations_reach_them_all() {
        let mut reached = vec![Hold::START];
        let mut i = 0;
        while i < reached.len() {
            for axis in [Axis::X, Axis::Y, Axis::Z] {
                let next = reached[i].rotated(axis, Amount::Quarter);
                if !reached.contains(&next) {
                    reached.push(next);
                }
            }
            i += 1;
        }
        reached.sort();
        let mut all = Hold::ALL.to_vec();
        all.sort();
        assert_eq!(reached, all);
    }

    #[test]
    fn a_scramble_hold_has_red_on_the_right() {
        assert_eq!(Hold::new(Colour::White, Colour::Green), Some(Hold::START));
        assert_eq!(Hold::START.colour(Face::R), Colour::Red);
        assert_eq!(Hold::new(Colour::White, Colour::Yellow), None);
    }
}
