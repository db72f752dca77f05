//! A string heddle tied on a jig: where its nails stand, and how much cord the loops take. Millimetres.

use super::Heddle;
use crate::machine::loom::sold::Shelf;

/// Least eye a finger and a threading hook get into.
const LEAST_EYE: f64 = 10.0;
/// Cord that the four knots of a loop take (common practice, no source).
const KNOTS: f64 = 120.0;

/// The jig and the cord of one loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tie {
    /// Height of a shaft's bar as the loom's parts list has it.
    pub bar: f64,
    /// Height of the tied eye.
    pub eye: f64,
    /// The nails above the lowest one: the loop's foot, the eye's lower and upper knot, the loop's head.
    pub nails: [f64; 4],
    /// Cord for one loop, and for all of them in metres.
    pub cord: f64,
    pub all: f64,
}

impl Tie {
    /// For a heddle of string: the loops go round both bars, and the eye stands in the middle of the opening.
    pub fn of(h: &Heddle) -> Tie {
        let eye = h.wish.eye.max(LEAST_EYE);
        let bar = Shelf::of(h.wish.system).lath.wide;
        let whole = h.wish.slot_height + 2.0 * bar;
        let (low, high) = ((whole - eye) / 2.0, (whole + eye) / 2.0);
        let cord = (2.0 * whole + KNOTS).ceil();
        let loops = f64::from(h.eyes * h.wish.frames());
        Tie { bar, eye, nails: [0.0, low, high, whole], cord, all: (cord * loops / 1000.0).ceil() }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Style, Wish, tests::tern_bay, work_out};
    use super::*;

    /// A slot of 78 mm between bars of 44: nails at 0, 78, 88 and 166 mm; 452 mm of cord a loop.
    #[test]
    fn the_jig_of_tern_bay() {
        let h = work_out(&Wish { style: Style::String, sett: 12.0, shafts: Some(4), ..tern_bay() }).unwrap();
        let tie = Tie::of(&h);
        assert_eq!((tie.nails, tie.cord), ([0.0, 78.0, 88.0, 166.0], 452.0));
        assert_eq!(tie.all, (0.452f64 * 840.0).ceil());
    }
}
