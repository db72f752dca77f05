//! What the same plan comes to on cloth of another width: everything settled again with that width stated. For the drawing that compares
//! widths.

use super::Outcome;
use std::sync::Arc;

use crate::chain::keys as id;
use crate::chain::lay::Table;
use crate::chain::mode::Numbers;
use crate::chain::stages::run;
use crate::units::{Duration, Length, Q};

/// Hours of the whole work on finished cloth of `width`, the pieces lying as the table says; none where the plan cannot be settled so.
pub fn hours(outcome: &Outcome, table: &Arc<Table>, width: Q<Length>) -> Option<Q<Duration>> {
    let mut wishes = outcome.brief.wishes.clone();
    wishes.lay = Arc::clone(table);
    wishes.state(id::LAY_WIDTH.slot, width.to_si());
    let (given, _) = wishes.settle().ok()?;
    let mut numbers = Numbers::default();
    run(&given, &mut numbers);
    numbers.get(&id::TOTAL_HOURS)
}
