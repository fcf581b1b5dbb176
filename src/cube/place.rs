//! Where a piece sits as the hands call it: by the faces of the hold.

use std::fmt;
use std::str::FromStr;

use super::{CornerPlace, EdgePlace, Face, FaceSet, Hold};

/// A place named by the faces of a hold, `U` or `D` first, then `F` or `B`, then `R` or `L`: `UFR`, `BL`.
///
/// The same name means another place of the cube in another hold; [`CornerPlace`] and [`EdgePlace`] are the places of
/// the cube itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// Where a corner sits.
    Corner([Face; 3]),
    /// Where an edge sits.
    Edge([Face; 2]),
}

impl Place {
    /// What the hands call a corner's place.
    #[must_use]
    pub fn of_corner(place: CornerPlace, hold: Hold) -> Place {
        Place::Corner(place.faces(hold))
    }

    /// What the hands call an edge's place.
    #[must_use]
    pub fn of_edge(place: EdgePlace, hold: Hold) -> Place {
        Place::Edge(place.faces(hold))
    }

    /// The place that touches exactly these faces; `None` if they are not two or three that meet.
    #[must_use]
    pub fn at(faces: FaceSet) -> Option<Place> {
        if faces.iter().any(|face| faces.contains(face.opposite())) {
            return None;
        }
        let faces: Vec<Face> = faces.iter().collect();
        match faces[..] {
            [a, b, c] => Some(Place::Corner([a, b, c])),
            [a, b] => Some(Place::Edge([a, b])),
            _ => None,
        }
    }

    /// Whether it is a corner's.
    #[must_use]
    pub const fn is_corner(&self) -> bool {
        matches!(self, Place::Corner(_))
    }

    /// The faces it touches, in the order in which people write them.
    #[must_use]
    pub const fn faces(&self) -> &[Face] {
        match self {
            Place::Corner(faces) => faces,
            Place::Edge(faces) => faces,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut name = String::with_capacity(3);
        name.extend(self.faces().iter().map(|face| face.letter()));
        f.pad(&name)
    }
}

/// A text that names no place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ParsePlaceError;

impl fmt::Display for ParsePlaceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("expected two or three of the faces that meet somewhere, such as `BL` or `UFR`")
    }
}

impl std::error::Error for ParsePlaceError {}

impl FromStr for Place {
    type Err = ParsePlaceError;

    /// The faces may stand in any order.
    fn from_str(text: &str) -> Result<Place, ParsePlaceError> {
        text.parse().ok().and_then(Place::at).ok_or(ParsePlaceError)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::{Corner, Edge};

    #[test]
    fn there_are_twenty_places_and_their_names_read_back() {
        let mut names = Vec::new();
        for hold in Hold::ALL {
            let corners = Corner::ALL.map(|corner| Place::of_corner(corner.home(), hold));
            let edges = Edge::ALL.map(|edge| Place::of_edge(edge.home(), hold));
            for place in corners.into_iter().chain(edges) {
                assert_eq!(place.to_string().parse(), Ok(place));
                names.push(place.to_string());
            }
        }
        names.sort_unstable();
        names.dedup();
        // Common practice, no source.
        let expected = "BL BR DB DBL DBR DF DFL DFR DL DR FL FR UB UBL UBR UF UFL UFR UL UR";
        assert_eq!(names.join(" "), expected);
    }

    #[test]
    fn faces_that_do_not_meet_are_no_place() {
        for text in ["", "U", "UU", "UD", "UFB", "URFL", "UFX", "ufr"] {
            assert_eq!(text.parse::<Place>(), Err(ParsePlaceError), "{text:?}");
        }
        assert_eq!("RUF".parse::<Place>().map(|place| place.to_string()), Ok("UFR".to_owned()));
    }
}
