//! Loom drawings of a plan: the loom, its shed, its heddle, its parts and the cutting of its wood.

use super::export::words;
use crate::chain::machines::LoomWork;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{self, machines};
use crate::machine::heddle::Style;
use crate::machine::shape::mesh::Mesh;
use crate::outlook::Outcome;

/// The loom as it is worked up.
fn work(outcome: &Outcome) -> Result<&LoomWork, String> {
    match &outcome.machines().loom {
        Some(work) => work.as_ref().map_err(words),
        None => Err("This plan has no loom: state `loom.weaving_width`, the widest warp it takes.".into()),
    }
}

/// The loom's sheets.
pub(super) fn machine(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(sheets::loom::sheets(&work(outcome)?.loom))
}

/// Ratchet and pawl, to print.
pub(super) fn solids(outcome: &Outcome) -> Result<Vec<(String, Mesh)>, String> {
    machines::loom_solids(work(outcome)?).map_err(|refusal| words(&refusal))
}

/// The shed.
pub(super) fn shed(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(vec![machines::shed_page(work(outcome)?)])
}

/// The heddle's sheets.
pub(super) fn heddle(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let work = work(outcome)?;
    Ok(sheets::heddle::sheets(&work.loom.wish.heddle, &work.compared, &work.cuts))
}

/// Heddle segments, to print.
pub(super) fn heddle_solids(outcome: &Outcome) -> Result<Vec<(String, Mesh)>, String> {
    let work = work(outcome)?;
    if work.loom.wish.heddle.wish.style != Style::Printed {
        return Err(
            "This heddle is sawn, cut or tied, not printed: write it as DXF, or set `loom.heddle.style = \"printed\"`."
                .into(),
        );
    }
    machines::heddle_solids(work).map_err(|refusal| words(&refusal))
}

/// The parts.
pub(super) fn parts(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(sheets::parts::sheets(&work(outcome)?.loom))
}

/// The cutting of boards and rods, and the shopping list, of both machines.
pub(super) fn cuts(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    match &outcome.machines().buying {
        Some(buying) => buying.as_ref().map(sheets::cuts::sheets).map_err(words),
        None => {
            Err("This plan has no machine: state `loom.weaving_width`, or `spinner.motor` and `spinner.supply`.".into())
        }
    }
}
