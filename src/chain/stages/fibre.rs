//! Fibre: its fineness, however it was stated.

use crate::chain::given::{FinenessBy, Given};
use crate::chain::keys as id;
use crate::formulas::fibre as by;
use crate::formulas::registry::{Mode, V};
use crate::units::LinearDensity;

/// Fineness of the fibre.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M) -> V<LinearDensity, M> {
    given.need(m, &id::FEWEST_FIBRES);
    given.need(m, &id::COUNT_MISS);
    match given.choices.fineness {
        FinenessBy::Micronaire => {
            let value = given.need(m, &id::MICRONAIRE);
            by::FROM_MICRONAIRE.to(m, &id::FIBRE_FINENESS, (value,))
        }
        FinenessBy::Diameter => {
            let (diameter, density) = (given.need(m, &id::FIBRE_DIAMETER), given.need(m, &id::FIBRE_DENSITY));
            by::FROM_DIAMETER.to(m, &id::FIBRE_FINENESS, (diameter, density))
        }
        FinenessBy::Count => given.need(m, &id::FIBRE_FINENESS),
    }
}
