//! Garment and cloth-cutting drawings of a plan.

use std::sync::Arc;

use crate::chain::decide::article::Laid;
use crate::chain::keys as id;
use crate::draw::sheet::Sheet;
use crate::draw::sheets::{lay, pattern, sewing, widths};
use crate::draw::title::Paper;
use crate::garment::Kind;
use crate::outlook::{self, Outcome};
use crate::units::{HOUR, Length, MM, Q};

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

/// No loom of this project is wider, m.
const ANY_LOOM: f64 = 10.0;

/// Cloth over the width.
pub(super) fn widths(outcome: &Outcome) -> Result<Vec<Sheet>, String> {
    let chosen = laid(outcome)?.width;
    let brief = &outcome.brief;
    if matches!(brief.article.wish.kind, Kind::Towel | Kind::Scarf) {
        return Err("This article is as wide as its cloth, so there is no width to choose.".into());
    }
    // where no loom is stated, half as much again as what is woven
    let reach = brief.wishes.greatest_width(&brief.given).to_si();
    let greatest = if reach < ANY_LOOM { reach } else { chosen.to_si() * 1.5 };
    let swept = brief.article.swept(Q::si(greatest.max(chosen.to_si())));
    let table = Arc::new(swept.table());
    let hours = |width: Q<Length>| outlook::widths::hours(outcome, &table, width).map(|hours| hours.get(&HOUR));
    let rows: Vec<widths::Width> = table
        .rows()
        .iter()
        .map(|row| widths::Width {
            width: row.width.get(&MM),
            // the shortest of the lays that are no wider
            length: table.at(row.width).unwrap_or(row).length.get(&MM),
            hours: hours(row.width),
            // on cloth a hair narrower the next narrower lay is kept
            hours_before: hours(row.width * (1.0 - 1e-6)),
        })
        .collect();
    let chosen = rows.iter().position(|row| (row.width - chosen.get(&MM)).abs() < 0.5).unwrap_or(0);
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
