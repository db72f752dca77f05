//! Season: the heat there is against the heat the crop needs. The days were summed when the plan was decided.

use crate::chain::given::Given;
use crate::chain::keys as id;
use crate::formulas::registry::Mode;
use crate::formulas::season as by;

/// Will it ripen.
#[inline(always)]
pub fn stage<M: Mode>(given: &Given, m: &mut M) {
    given.hand(m, &id::FIRST_OPEN_BOLL);
    if let (Some(heat), Some(need)) = (given.hand(m, &id::HEAT_UNITS), given.hand(m, &id::HEAT_NEEDED)) {
        by::RIPENS.to(m, &id::RIPENS, (heat, need));
    }
}
