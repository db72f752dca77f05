//! Garment and cloth-cutting drawings of a plan.

use crate::chain::decide::article::Laid;
use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{lay, pattern, sewing, widths};
use crate::draw::title::Paper;
use crate::outlook::{self, Outcome};
use crate::units::{HOUR, MM, Q};

/// The lay on the width that is woven.
fn laid(outcome: &Outcome) -> Result<&Laid, String> {
    let width = outcome.get(&id::LAY_WIDTH).unwrap_or(Q::si(0.0));
    outcome.brief.article.on(width).ok_or_else(|| "No width of cloth holds the pieces of this plan.".to_string())
}

/// Names of the lay's pieces: as in the pattern.
fn names(laid: &Laid) -> Vec<String> {
    laid.names.iter().map(|at| laid.garment.pieces[*at].name.clone()).collect()
}

/// The lay.
pub(super) fn lay(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let laid = laid(outcome)?;
    let names = names(laid);
    let lay = lay::Lay { job: &laid.job, layout: &laid.layout, names: &names, style: outcome.brief.style };
    Ok(vec![lay::sheet(&lay, Paper::A4)])
}

/// Cloth over the width.
pub(super) fn widths(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let chosen = laid(outcome)?.width;
    let all = &outcome.brief.article.laid;
    if all.len() < 2 {
        return Err("The width of this cloth is fixed by the plan or the article, so there is none to choose.".into());
    }
    let row = |laid: &Laid| widths::Width {
        width: laid.width.get(&MM),
        length: laid.layout.length,
        hours: outlook::widths::hours(outcome, laid.width).map(|hours| hours.get(&HOUR)),
    };
    let mut rows: Vec<widths::Width> = all.iter().map(row).collect();
    rows.sort_by(|a, b| a.width.total_cmp(&b.width));
    let chosen = rows.iter().position(|row| row.width == chosen.get(&MM)).unwrap_or(0);
    let widths = widths::Widths { rows: &rows, chosen, what: "finished width", style: outcome.brief.style };
    Ok(vec![widths::sheet(&widths, Paper::A4)])
}

/// The paper pattern of one article, cut for the width that is woven.
pub(super) fn pattern(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(vec![pattern::sheet(&laid(outcome)?.garment)])
}

/// The sewing order; the mass of the cloth chooses the needle.
pub(super) fn sewing(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    Ok(sewing::pages(&laid(outcome)?.garment, outcome.get(&id::CLOTH_MASS), Paper::A4))
}
