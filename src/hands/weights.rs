//! What each token costs, and how that is written.

use std::fmt;
use std::ops::Range;
use std::str::FromStr;

use serde::{Deserialize, Serialize};

use super::units::HalfUnits;
use crate::cube::{Amount, Face};

/// What each token costs the hands. The defaults are common practice, no source.
///
/// Written as a list of `what=units`, of which any may be left out:
///
/// ```text
/// r l u d f b   a quarter turn of the face; several letters set several: rlu=1
/// half          what any half turn of a layer costs more
/// wide-d        a quarter turn of U played as a wide d, with which the cube turns
/// y  y2         a rotation by a quarter and by a half turn, about any axis
/// switch        what a turn of R or L costs more after one of the other of the two
/// ```
///
/// Units are multiples of 0.5 up to 100; `half` and `switch` may be 0.
///
/// ```
/// use cornerwise::hands::Weights;
///
/// let weights: Weights = "b=4,y=1".parse()?;
/// assert_eq!(weights.to_string(), "rlu=1,df=2,b=4,half=0.5,wide-d=2,y=1,y2=2,switch=0.5");
/// assert_eq!("".parse(), Ok(Weights::default()));
/// let error = "b=4,z=1".parse::<Weights>().expect_err("z goes with y");
/// assert_eq!(error.to_string(), "`z=1`: expected faces (of r l u d f b), half, wide-d, y, y2 or switch before the `=`");
/// assert_eq!(error.span(), 4..7);
/// # Ok::<(), cornerwise::hands::WeightsError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Weights {
    /// A quarter turn of `R`.
    pub r: HalfUnits,
    /// A quarter turn of `L`.
    pub l: HalfUnits,
    /// A quarter turn of `U`.
    pub u: HalfUnits,
    /// A quarter turn of `D`.
    pub d: HalfUnits,
    /// A quarter turn of `F`.
    pub f: HalfUnits,
    /// A quarter turn of `B`.
    pub b: HalfUnits,
    /// What a half turn of a layer costs more.
    pub half: HalfUnits,
    /// A quarter turn of `U` played as a wide `d`.
    pub wide_d: HalfUnits,
    /// A rotation by a quarter turn.
    pub y: HalfUnits,
    /// A rotation by a half turn.
    pub y2: HalfUnits,
    /// What a turn of `R` or `L` costs more if the last turn of `R` or `L` before it was of the other of the two.
    pub switch: HalfUnits,
}

impl Default for Weights {
    fn default() -> Weights {
        let halves = HalfUnits::from_halves;
        Weights {
            r: halves(2),
            l: halves(2),
            u: halves(2),
            d: halves(4),
            f: halves(4),
            b: halves(6),
            half: halves(1),
            wide_d: halves(4),
            y: halves(3),
            y2: halves(4),
            switch: halves(1),
        }
    }
}

/// The faces in the order in which weights are written.
const FACES: [(char, Face); 6] =
    [('r', Face::R), ('l', Face::L), ('u', Face::U), ('d', Face::D), ('f', Face::F), ('b', Face::B)];

/// The most that anything may cost.
const MOST: f64 = 100.0;

impl Weights {
    /// A turn of one layer.
    #[must_use]
    pub fn turn(&self, face: Face, amount: Amount) -> HalfUnits {
        let quarter = match face {
            Face::U => self.u,
            Face::D => self.d,
            Face::F => self.f,
            Face::B => self.b,
            Face::R => self.r,
            Face::L => self.l,
        };
        if amount == Amount::Half { quarter + self.half } else { quarter }
    }

    /// A rotation of the whole cube.
    #[must_use]
    pub const fn rotation(&self, amount: Amount) -> HalfUnits {
        match amount {
            Amount::Half => self.y2,
            Amount::Quarter | Amount::Back => self.y,
        }
    }

    /// The least that any turn costs.
    #[must_use]
    pub fn least(&self) -> HalfUnits {
        let Weights { r, l, u, d, f, b, wide_d, .. } = *self;
        [l, u, d, f, b, wide_d].into_iter().fold(r, HalfUnits::min)
    }

    fn face_mut(&mut self, face: Face) -> &mut HalfUnits {
        match face {
            Face::U => &mut self.u,
            Face::D => &mut self.d,
            Face::F => &mut self.f,
            Face::B => &mut self.b,
            Face::R => &mut self.r,
            Face::L => &mut self.l,
        }
    }
}

/// All of them, faces that cost the same together; reading it back gives the same weights.
impl fmt::Display for Weights {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut left = FACES.to_vec();
        while let Some(&(_, first)) = left.first() {
            let cost = self.turn(first, Amount::Quarter);
            let (same, other): (Vec<_>, Vec<_>) =
                left.into_iter().partition(|&(_, face)| self.turn(face, Amount::Quarter) == cost);
            let letters: String = same.into_iter().map(|(letter, _)| letter).collect();
            write!(f, "{letters}={cost},")?;
            left = other;
        }
        let Weights { half, wide_d, y, y2, switch, .. } = self;
        write!(f, "half={half},wide-d={wide_d},y={y},y2={y2},switch={switch}")
    }
}

/// Why written [`Weights`] were refused.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeightsError {
    item: String,
    kind: WeightsErrorKind,
    span: Range<usize>,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum WeightsErrorKind {
    NoEquals,
    UnknownName,
    Twice,
    NotUnits { may_be_nothing: bool },
}

impl WeightsError {
    /// The bytes of the text that are to blame.
    #[must_use]
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }
}

impl fmt::Display for WeightsError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "`{}`: ", self.item)?;
        match self.kind {
            WeightsErrorKind::NoEquals => f.write_str("expected what it is and its units, as in `b=3`"),
            WeightsErrorKind::UnknownName => {
                f.write_str("expected faces (of r l u d f b), half, wide-d, y, y2 or switch before the `=`")
            }
            WeightsErrorKind::Twice => f.write_str("this is set already, earlier in the list"),
            WeightsErrorKind::NotUnits { may_be_nothing } => {
                let least = if may_be_nothing { "0" } else { "0.5" };
                write!(f, "expected units from {least} to {MOST} in steps of 0.5")
            }
        }
    }
}

impl std::error::Error for WeightsError {}

impl FromStr for Weights {
    type Err = WeightsError;

    fn from_str(text: &str) -> Result<Weights, WeightsError> {
        let mut weights = Weights::default();
        let mut set: Vec<String> = Vec::new();
        let mut at = 0;
        for part in text.split(',') {
            let start = at + (part.len() - part.trim_start().len());
            at += part.len() + 1;
            let item = part.trim();
            if item.is_empty() {
                continue;
            }
            let refuse =
                |kind| Err(WeightsError { item: item.to_owned(), kind, span: start..start + item.len() });
            let Some((name, units)) = item.split_once('=') else {
                return refuse(WeightsErrorKind::NoEquals);
            };
            let (name, units) = (name.trim(), units.trim());
            let may_be_nothing = matches!(name, "half" | "switch");
            let units = units.parse().ok().filter(|units: &f64| (0.0..=MOST).contains(units));
            let units = units.and_then(HalfUnits::from_units);
            let units = units.filter(|&units| units > HalfUnits::ZERO || may_be_nothing);
            let faces: Option<Vec<Face>> = name
                .chars()
                .map(|letter| FACES.iter().find(|(known, _)| *known == letter).map(|&(_, face)| face))
                .collect();
            let names: Vec<String> = match (name, &faces) {
                ("half" | "wide-d" | "y" | "y2" | "switch", _) => vec![name.to_owned()],
                (_, Some(faces)) if !faces.is_empty() => name.chars().map(String::from).collect(),
                _ => return refuse(WeightsErrorKind::UnknownName),
            };
            for name in names {
                if set.contains(&name) {
                    return refuse(WeightsErrorKind::Twice);
                }
                set.push(name);
            }
            let Some(units) = units else {
                return refuse(WeightsErrorKind::NotUnits { may_be_nothing });
            };
            match name {
                "half" => weights.half = units,
                "wide-d" => weights.wide_d = units,
                "y" => weights.y = units,
                "y2" => weights.y2 = units,
                "switch" => weights.switch = units,
                _ => faces.into_iter().flatten().for_each(|face| *weights.face_mut(face) = units),
            }
        }
        Ok(weights)
    }
}
