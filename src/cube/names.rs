//! How the things of the cube are written, and read: the letters of the trade, and English colour names.
//!
//! What [`Display`](fmt::Display) writes, [`FromStr`] reads, and nothing else: what people write more freely is the
//! notation's and the record's to read.

use std::fmt;
use std::str::FromStr;

use super::{Amount, Axis, Colour, Face, FaceSet, Move, Moves, Pair, PairName, Slice, Stickers};

/// A text that is not the name of what was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NameError {
    expected: &'static str,
}

impl fmt::Display for NameError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "expected {}", self.expected)
    }
}

impl std::error::Error for NameError {}

/// The one of these that is written so.
fn named<T: Copy + fmt::Display>(
    all: impl IntoIterator<Item = T>,
    text: &str,
    expected: &'static str,
) -> Result<T, NameError> {
    all.into_iter().find(|one| one.to_string() == text).ok_or(NameError { expected })
}

impl Face {
    /// The letter, upper case.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Face::U => 'U',
            Face::D => 'D',
            Face::F => 'F',
            Face::B => 'B',
            Face::R => 'R',
            Face::L => 'L',
        }
    }
}

impl fmt::Display for Face {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Write::write_char(f, self.letter())
    }
}

impl FromStr for Face {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Face, NameError> {
        named(Face::ALL, text, "a face: `U`, `D`, `F`, `B`, `R` or `L`")
    }
}

impl fmt::Display for FaceSet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.iter().try_for_each(|face| write!(f, "{face}"))
    }
}

/// Letters of faces in any order, each at most once.
impl FromStr for FaceSet {
    type Err = NameError;

    fn from_str(text: &str) -> Result<FaceSet, NameError> {
        let mut faces = FaceSet::EMPTY;
        for letter in text.chars() {
            let face = Face::ALL.into_iter().find(|face| face.letter() == letter);
            let face = face.filter(|&face| !faces.contains(face));
            faces = faces.with(face.ok_or(NameError { expected: "letters of faces, such as `UFR`" })?);
        }
        Ok(faces)
    }
}

impl Colour {
    /// The English name, lower case.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Colour::White => "white",
            Colour::Yellow => "yellow",
            Colour::Green => "green",
            Colour::Blue => "blue",
            Colour::Red => "red",
            Colour::Orange => "orange",
        }
    }

    /// The first letter of the name, upper case; no two colours share one.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Colour::White => 'W',
            Colour::Yellow => 'Y',
            Colour::Green => 'G',
            Colour::Blue => 'B',
            Colour::Red => 'R',
            Colour::Orange => 'O',
        }
    }
}

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.name())
    }
}

impl FromStr for Colour {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Colour, NameError> {
        named(Colour::ALL, text, "a colour, such as `white`")
    }
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Amount::Quarter => "",
            Amount::Half => "2",
            Amount::Back => "'",
        })
    }
}

impl fmt::Display for Axis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Axis::X => "x",
            Axis::Y => "y",
            Axis::Z => "z",
        })
    }
}

impl fmt::Display for Slice {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Slice::M => "M",
            Slice::E => "E",
            Slice::S => "S",
        })
    }
}

/// The form the Regulations define where they define one (`Rw`, not `r`), with ASCII primes.
impl fmt::Display for Move {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Move::Turn(face, _) => face.fmt(f)?,
            Move::Wide(face, _) => {
                face.fmt(f)?;
                f.write_str("w")?;
            }
            Move::Slice(slice, _) => slice.fmt(f)?,
            Move::Rotation(axis, _) => axis.fmt(f)?,
        }
        self.amount().fmt(f)
    }
}

impl FromStr for Move {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Move, NameError> {
        let (amount, stem) = if let Some(stem) = text.strip_suffix('\'') {
            (Amount::Back, stem)
        } else if let Some(stem) = text.strip_suffix('2') {
            (Amount::Half, stem)
        } else {
            (Amount::Quarter, text)
        };
        let expected = "a turn or rotation, such as `R`, `Uw2`, `M'` or `y`";
        let slice = Slice::ALL.into_iter().find(|slice| slice.to_string() == stem);
        let axis = Axis::ALL.into_iter().find(|axis| axis.to_string() == stem);
        match (slice, axis, stem.strip_suffix('w')) {
            (Some(slice), ..) => Ok(Move::Slice(slice, amount)),
            (_, Some(axis), _) => Ok(Move::Rotation(axis, amount)),
            (.., Some(face)) => named(Face::ALL, face, expected).map(|face| Move::Wide(face, amount)),
            _ => named(Face::ALL, stem, expected).map(|face| Move::Turn(face, amount)),
        }
    }
}

/// With a space between.
impl fmt::Display for Moves {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, mv) in self.iter().enumerate() {
            if i > 0 {
                f.write_str(" ")?;
            }
            mv.fmt(f)?;
        }
        Ok(())
    }
}

impl FromStr for Moves {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Moves, NameError> {
        text.split_whitespace().map(Move::from_str).collect()
    }
}

/// The name of the pair, and of its slot.
impl fmt::Display for Pair {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.name().fmt(f)
    }
}

/// The two side colours in alphabetical order: `green-red`.
impl fmt::Display for PairName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.sides().map(Colour::name).join("-"))
    }
}

impl FromStr for PairName {
    type Err = NameError;

    fn from_str(text: &str) -> Result<PairName, NameError> {
        let sides = text.split_once('-').and_then(|(a, b)| Some((a.parse().ok()?, b.parse().ok()?)));
        sides
            .and_then(|(a, b): (Colour, Colour)| PairName::new(a, b).filter(|name| name.sides() == [a, b]))
            .ok_or(NameError {
                expected: "a pair by its side colours in alphabetical order, such as `green-red`",
            })
    }
}

/// 54 letters of colours.
impl fmt::Display for Stickers {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.iter().try_for_each(|colour| fmt::Write::write_char(f, colour.letter()))
    }
}

impl FromStr for Stickers {
    type Err = NameError;

    fn from_str(text: &str) -> Result<Stickers, NameError> {
        let colour = |letter| Colour::ALL.into_iter().find(|colour| colour.letter() == letter);
        let colours: Option<Vec<Colour>> = text.chars().map(colour).collect();
        colours
            .and_then(|colours| Stickers::new(&colours))
            .ok_or(NameError { expected: "54 letters of colours: `W`, `Y`, `G`, `B`, `R` and `O`" })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::cube::Position;

    fn both_ways<T: Copy + PartialEq + fmt::Debug + fmt::Display + FromStr>(
        all: impl IntoIterator<Item = T>,
    ) -> usize {
        let mut count = 0;
        for one in all {
            assert_eq!(one.to_string().parse().ok(), Some(one), "{one}");
            count += 1;
        }
        count
    }

    #[test]
    fn what_is_written_is_read() {
        assert_eq!(both_ways(Face::ALL) + both_ways(Colour::ALL), 12);
        assert_eq!(both_ways(Move::ALL), 54);
        let pairs = Colour::ALL.into_iter().flat_map(Pair::all).map(|pair| pair.name());
        assert_eq!(both_ways(pairs), 24);
        let mixed = Position::SOLVED.after("R Uw2 M' y F".parse::<Moves>().expect("moves").iter().copied());
        assert_eq!(both_ways([Stickers::of(&mixed)]), 1);
    }

    #[test]
    fn what_is_no_name_is_refused() {
        for text in ["", "r", "R3", "R2'", "Mw", "xw", "RU", " R"] {
            assert!(text.parse::<Move>().is_err(), "{text:?}");
        }
        for text in ["red-green", "green", "green-blue", "green-green", "green-"] {
            assert!(text.parse::<PairName>().is_err(), "{text:?}");
        }
        assert!("UFRU".parse::<FaceSet>().is_err() && "WYGBRO".parse::<Stickers>().is_err());
    }
}
