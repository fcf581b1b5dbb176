//! Costs in half units.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Sub};

use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// A handling cost, or a difference of two, counted in halves of a unit. One unit is a quarter turn of `R`.
///
/// People and files read units: `10.5` is 21 halves.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct HalfUnits(i32);

impl HalfUnits {
    /// Nothing.
    pub const ZERO: HalfUnits = HalfUnits(0);

    /// This many halves of a unit.
    #[must_use]
    pub const fn from_halves(halves: i32) -> HalfUnits {
        HalfUnits(halves)
    }

    /// How many halves of a unit.
    #[must_use]
    pub const fn halves(self) -> i32 {
        self.0
    }

    /// The same in units.
    #[must_use]
    pub fn units(self) -> f64 {
        f64::from(self.0) / 2.0
    }

    /// From units; `None` unless they are a whole number of halves that fits.
    #[must_use]
    pub fn from_units(units: f64) -> Option<HalfUnits> {
        let halves = units * 2.0;
        let fits = halves.fract() == 0.0 && halves.abs() <= f64::from(i32::MAX);
        fits.then_some(HalfUnits(halves as i32))
    }
}

impl Add for HalfUnits {
    type Output = HalfUnits;

    fn add(self, other: HalfUnits) -> HalfUnits {
        HalfUnits(self.0 + other.0)
    }
}

impl AddAssign for HalfUnits {
    fn add_assign(&mut self, other: HalfUnits) {
        self.0 += other.0;
    }
}

impl Sub for HalfUnits {
    type Output = HalfUnits;

    fn sub(self, other: HalfUnits) -> HalfUnits {
        HalfUnits(self.0 - other.0)
    }
}

impl Sum for HalfUnits {
    fn sum<I: Iterator<Item = HalfUnits>>(costs: I) -> HalfUnits {
        costs.fold(HalfUnits::ZERO, Add::add)
    }
}

/// In units, without a needless `.0`: `10.5`, `4`.
impl fmt::Display for HalfUnits {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.units().to_string())
    }
}

/// As a number of units.
impl Serialize for HalfUnits {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_f64(self.units())
    }
}

impl<'de> Deserialize<'de> for HalfUnits {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<HalfUnits, D::Error> {
        let units = f64::deserialize(deserializer)?;
        HalfUnits::from_units(units)
            .ok_or_else(|| Error::custom(format!("expected a multiple of 0.5, found {units}")))
    }
}
