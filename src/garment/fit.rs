//! Will it go on, and can one move in it: each question as a number against a limit, with its margin, words and the knobs
//! that change it. The checks of the plan are made from these; nothing here says pass or fail in words of its own.

use crate::units::{Angle, DEG, Length, MM, Q};

/// A number with its kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Amount {
    Length(Q<Length>),
    Angle(Q<Angle>),
}

impl Amount {
    /// Millimetres as a length.
    pub fn mm(value: f64) -> Amount {
        Amount::Length(Q::new(value, &MM))
    }
    /// Degrees as an angle.
    pub fn deg(value: f64) -> Amount {
        Amount::Angle(Q::new(value, &DEG))
    }
    /// Number of SI units.
    pub fn to_si(self) -> f64 {
        match self {
            Amount::Length(q) => q.to_si(),
            Amount::Angle(q) => q.to_si(),
        }
    }
}

/// On which side of the limit it is well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Bound {
    AtLeast,
    AtMost,
}

/// One question of fit, answered.
#[derive(Clone, Debug, PartialEq)]
pub struct Fit {
    /// Stable name, in kebab case.
    pub code: &'static str,
    /// What is compared, in a few words.
    pub name: &'static str,
    pub value: Amount,
    pub limit: Amount,
    pub bound: Bound,
    /// The garment cannot be worn when it is not met; otherwise it is only less good.
    pub must: bool,
    /// One sentence with the numbers.
    pub text: String,
    /// Keys of the plan that change it, the nearest first.
    pub knobs: &'static [&'static str],
    pub source: &'static str,
}

impl Fit {
    /// How far on the good side, in SI units: negative is not met.
    pub fn margin(&self) -> f64 {
        let over = self.value.to_si() - self.limit.to_si();
        match self.bound {
            Bound::AtLeast => over,
            Bound::AtMost => -over,
        }
    }
    /// Whether it is met; a thousandth of a millimetre (or 0.06°) short is met, being rounding.
    pub fn met(&self) -> bool {
        self.margin() >= -1e-6
    }
}
